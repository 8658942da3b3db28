#!/usr/bin/env bash
# The ear from its pinned sources: `make.sh FOLDER`, in a folder that holds what README.md names under "From what", and `earlier/`: an
# ear that stands, `ear.pt` or `ear.onnx` with `words.json`, to go on from. (From nothing:
# `encoder.py encoder_model.ort encoder.npz`, and that file's name in place of `earlier`.)
# On a machine with four accelerators, Python with torch, onnx, onnxruntime, numpy, soxr, espeakng-loader; texts.json and the jobs
# are made beforehand (texts.py with the product's Python, jobs.py where kokoro-onnx is installed). 5 minutes of
# speech, about 17 of training. The fifth spell: see README.md.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
cd "$1"
sha256sum -c "$here/sources.sha256"
workers=${WORKERS:-60}
python3 "$here/whole_floats.py" kokoro.onnx kokoro.real.onnx
python3 "$here/speak.py" espeak - espeak.json speech 600 "$workers"
python3 "$here/speak.py" flite "${FLITE:-flite}" flite.json speech 600 "$workers"
python3 "$here/speak.py" kokoro kokoro.real.onnx kokoro.json speech 3000 "$workers" --voices voices.npz --accelerators 4
run() { CUDA_VISIBLE_DEVICES=$1 python3 "$here/train.py" speech texts.json earlier "${@:2}" & }
run 0 even --steps 9000 --seed 8 --narrow 0.5
run 1 narrow --steps 9000 --seed 9 --joined 0.45 --fronts --narrow 0.6
run 2 more --steps 9000 --seed 10 --joined 0.45 --fronts --narrow 0.6
run 3 between --steps 9000 --seed 11 --joined 0.4 --narrow 0.55
wait
python3 "$here/export.py" even narrow more between
