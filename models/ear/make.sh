#!/usr/bin/env bash
# The ear from its pinned sources: `make.sh FOLDER`, in a folder that holds what README.md names under "From what".
# On a machine with accelerators, Python with torch, onnx, onnxruntime, numpy, soxr, espeakng-loader; texts.json and the jobs
# are made beforehand (texts.py with the product's Python, jobs.py where kokoro-onnx is installed). On four accelerators
# 4 minutes of speech and 10 of training. `earlier` holds `ear.onnx` and `words.json` of the ear that this one goes on from.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
cd "$1"
sha256sum -c "$here/sources.sha256"
workers=${WORKERS:-14} accelerators=${ACCELERATORS:-1}
python3 "$here/whole_floats.py" kokoro.onnx kokoro.real.onnx
begin=earlier
if [ ! -d earlier ]; then
    python3 "$here/encoder.py" encoder_model.ort encoder.npz
    begin=encoder.npz
fi
python3 "$here/speak.py" espeak - espeak.json speech 600 "$workers"
python3 "$here/speak.py" flite "${FLITE:-flite}" flite.json speech 600 "$workers"
python3 "$here/speak.py" kokoro kokoro.real.onnx kokoro.json speech 3000 "$workers" --voices voices.npz --accelerators "$accelerators"
torchrun --standalone --nproc-per-node "$accelerators" "$here/train.py" speech texts.json "$begin" trained --steps "${STEPS:-8246}" --seed 3
python3 "$here/export.py" trained
