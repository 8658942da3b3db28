#!/usr/bin/env bash
# The ear from its pinned sources: `make.sh FOLDER`, in a folder that holds what README.md names under "From what", and `earlier/` and
# `third/`: ears to go on from, each `ear.pt` or `ear.onnx` with `words.json`. (From nothing:
# `encoder.py encoder_model.ort encoder.npz`, and that file's name in their place.)
# On a machine with four accelerators, Python with torch, onnx, onnxruntime, numpy, soxr, espeakng-loader; texts.json and the jobs
# are made beforehand (texts.py with the product's Python, jobs.py where kokoro-onnx is installed). 4 minutes of
# speech, 13 of training. The fifth spell: see README.md.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
cd "$1"
sha256sum -c "$here/sources.sha256"
workers=${WORKERS:-60}
python3 "$here/whole_floats.py" kokoro.onnx kokoro.real.onnx
python3 "$here/speak.py" espeak - espeak.json speech 600 "$workers"
python3 "$here/speak.py" flite "${FLITE:-flite}" flite.json speech 600 "$workers"
python3 "$here/speak.py" kokoro kokoro.real.onnx kokoro.json speech 240 "$workers" --voices voices.npz --accelerators 4
run() { CUDA_VISIBLE_DEVICES=$1 python3 "$here/train.py" speech texts.json "${@:2}" & }
run 0 earlier even --steps 7499 --seed 8 --narrow 0.5
run 1 earlier narrow --steps 7400 --seed 9 --joined 0.45 --fronts --narrow 0.6
run 2 third more --steps 7345 --seed 10 --joined 0.45 --fronts --narrow 0.6
run 3 earlier between --steps 7455 --seed 11 --joined 0.4 --narrow 0.55
wait
python3 "$here/export.py" even narrow more between --earlier earlier 0.5
