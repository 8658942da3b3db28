"use strict";
(function () {
  const form = document.getElementById("find"), rows = document.getElementById("rows");
  const count = document.getElementById("count"), more = document.getElementById("more");
  const months = form.dataset.months.split(" ").filter(Boolean);
  const kept = new Map();
  const AT_ONCE = 50;
  let wanted = AT_ONCE, run = 0;

  // A month's file calls this; nothing else is ever read from it.
  window.found = function (month, calls) { kept.set(month, calls); };

  function load(month) {
    if (kept.has(month)) return Promise.resolve();
    return new Promise(function (done) {
      const script = document.createElement("script");
      script.src = "find/" + encodeURIComponent(month) + ".js";
      script.onload = done;
      script.onerror = function () { kept.set(month, []); done(); };
      document.head.appendChild(script);
    });
  }

  function asked() {
    const data = new FormData(form), text = function (name) { return String(data.get(name) || "").trim().toLowerCase(); };
    return {site: text("site"), rack: text("rack"), compressor: text("compressor"), technician: text("technician"),
            cause: text("cause"), from: text("from"), to: text("to")};
  }

  function fits(call, q) {
    const day = call[1].slice(0, 10), has = function (value, part) { return !part || value.toLowerCase().includes(part); };
    return (!q.from || day >= q.from) && (!q.to || day <= q.to) && has(call[2], q.site) && has(call[5], q.technician) &&
      (!q.rack || call[3].toLowerCase() === q.rack) && (!q.compressor || call[4].toLowerCase() === q.compressor) &&
      has(call[6], q.cause);
  }

  function cell(row, head, text, target) {
    const td = document.createElement("td");
    td.dataset.head = head;
    if (target) {
      const a = document.createElement("a");
      a.href = target;
      a.textContent = text;
      td.appendChild(a);
    } else td.textContent = text;
    row.appendChild(td);
  }

  function show(call) {
    const row = document.createElement("tr");
    const name = call[2] + ", rack " + (call[3] || "?") + ", compressor " + (call[4] || "?");
    cell(row, "began", call[1]);
    cell(row, "machine", name, call[0] && "calls/" + encodeURIComponent(call[0]) + ".html");
    cell(row, "technician", call[5]);
    cell(row, "cause", call[6] + (call[7] ? ", " + call[7] : ""));
    cell(row, "log", call[8]);
    rows.appendChild(row);
  }

  async function search() {
    const mine = ++run, q = asked();
    rows.replaceChildren();
    let n = 0, searched = 0;
    more.hidden = true;
    for (const month of months) {
      if (n >= wanted) break;
      if ((q.from && month < q.from.slice(0, 7)) || (q.to && month > q.to.slice(0, 7))) continue;
      await load(month);
      if (mine !== run) return;
      searched += 1;
      for (const call of kept.get(month)) {
        if (!fits(call, q)) continue;
        if (n >= wanted) { n += 1; break; }
        show(call);
        n += 1;
      }
    }
    const whole = n <= wanted && searched > 0;
    more.hidden = n < wanted;
    count.textContent = Math.min(n, wanted) + " calls" + (n > wanted || !more.hidden ? " and perhaps more" : "") +
      (whole ? "" : ", the newest first");
  }

  form.addEventListener("input", function () { wanted = AT_ONCE; search(); });
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  more.addEventListener("click", function () { wanted += AT_ONCE; search(); });
  search();
})();
