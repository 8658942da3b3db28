"""What is said against a circuit that was emptied, a test of insulation or a cylinder, as patterns of `unready`."""

IS = r"(?:'s|'re| is| are| was| were)?(?: (?!not\b)\w+)?"
STILL = rf"{IS} still(?: \w+)?"
OF_THE_CIRCUIT = (
    ("pressure", r"\bstill(?: \w+){0,2} pressure\b|\b(?:not|isn't|ain't) at zero\b|\b(?:not|isn't|ain't)(?: \w+)? isolated\b"),
    ("pressure", r"\bpressure(?:'s| is| keeps)?(?: \w+)? (?:(?:coming|rising|building|climbing|creeping)(?: back)? up"
     r"|coming back)\b"),
    ("pressure", r"\bvalves?(?:'s| is| are)? (?:leaking by|passing|not holding)\b|\bvalves? (?:won't|doesn't|don't) hold\b"),
    ("pressure", r"\bgauge(?:'s| is| keeps| just)?(?: \w+)? (?:(?:com|ris|climb|creep|mov|go|build)ing|up|off zero|climbs"
     r"|climbed|rose|came (?:back )?up|jumped|moved)\b"),
    ("pressure", r"(?<!not a )(?<!no )\bhiss(?:es|ing|ed)?(?: \w+)? (?:out of|from|at) \w+"
     r"|\b(?:gas|liquid|refrigerant)(?:'s| is)?"
     r" (?:coming|blowing|spraying|leaking) out\b(?! (?:is|reads|at)\b)"),
    ("pressure", r"\bopened (?:up )?(?:the|that|a|my) (?:\w+ )?(?:valve|king)\b"
     r"|\bvalve(?:'s| is| was) (?:back )?open(?:ed)? again\b"),
    ("pressure", r"^(?:now |but |wait |hey |the )*(?:it's|it is|gauge(?:'s| is| reads| says| shows))(?: \w+)?(?: back)?"
     r" (?:at|up to|up at)? ?(?!zero|nothing|no )\w+(?: \w+)? (?:pounds|psi)\b"),
    ("vacuum", r"(?<!not )(?<!n't )(?<!nobody's )\b(?:in|into|under) (?:a |deep )?vacuum\b"),
    ("modules on", rf"\b(?:module|modules|drive|soft starter)(?:'s|'re)?{STILL}"
     r" (?:on|connected|hooked up|wired|plugged in|in)\b"),
    ("modules on", r"\b(?:module|modules|drive|soft starter) (?:isn't|aren't|is not|are not) (?:off|unplugged|disconnected)\b"),
    ("other gas", r"\b(?:wrong|different|another|some other) (?:refrigerant|gas|cylinder|jug|bottle)\b"),
    ("other gas", r"\b(?:cylinder|jug|bottle)\b.*\bwrong one\b"),
    ("other gas", r"\b(?:cylinder|jug|bottle|it|they)(?:'s| is| are)? not the same\b|\b(?:isn't|ain't) the same\b"),
    ("other gas", r"\b(?:of|with|used|using) (?:the|some) old (?:stuff|gas|one)\b"),
    ("other gas", r"\b(?:cylinder|jug|bottle)(?: label)?(?:'s| is| says| reads| shows| has)(?: (?!not\b)\w+)?"
     r" r (?:one|two|twenty|four|five|seven)\b"),
    ("other gas", r"\brecovered (?:gas|refrigerant)\b|\bno (?:label|tag|sticker) on (?:it|the cylinder|the jug)\b"),
)
