#!/usr/bin/env bash
# The ear from its pinned sources: `make.sh FOLDER`, in a folder that holds what README.md names under "From what", and `earlier/`: the
# ear to go on from, `ear.pt` or `ear.onnx` with `words.json`. (From nothing:
# `encoder.py encoder_model.ort encoder.npz`, and that file's name in its place.)
# On a machine with two accelerators, Python with torch, onnx, onnxruntime, numpy, soxr, espeakng-loader; texts.json and the jobs
# are made beforehand (texts.py with the product's Python, jobs.py where kokoro-onnx is installed). 7 minutes of
# speech, 11 of training. The sixth spell: see README.md.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
cd "$1"
sha256sum -c "$here/sources.sha256"
workers=${WORKERS:-32}
python3 "$here/whole_floats.py" kokoro.onnx kokoro.real.onnx
python3 "$here/speak.py" espeak - espeak.json speech 90 "$workers"
python3 "$here/speak.py" flite "${FLITE:-flite}" flite.json speech 60 "$workers"
python3 "$here/speak.py" kokoro kokoro.real.onnx kokoro.json speech 370 40 --voices voices.npz --accelerators 2
run() { CUDA_VISIBLE_DEVICES=$1 python3 "$here/train.py" speech texts.json earlier "${@:2}" & }
run 0 even --steps 6912 --seed 12 --narrow 0.5
run 1 narrow --steps 6796 --seed 13 --joined 0.45 --fronts --narrow 0.6
wait
python3 "$here/export.py" even narrow --earlier earlier 0.25
