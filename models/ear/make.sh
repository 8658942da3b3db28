#!/usr/bin/env bash
# The ear from its pinned sources: `make.sh FOLDER`, in a folder that holds what README.md names under "From what", and `earlier/`: an
# ear that stands, `ear.onnx` with `words.json`, to go on from. (From nothing: `encoder.py encoder_model.ort encoder.npz`, and that
# file's name in place of `earlier`.)
# On a machine with four accelerators, Python with torch, onnx, onnxruntime, numpy, soxr, espeakng-loader; texts.json and the jobs
# are made beforehand (texts.py with the product's Python, jobs.py where kokoro-onnx is installed). 5 minutes of speech, 22 of training.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
cd "$1"
sha256sum -c "$here/sources.sha256"
workers=${WORKERS:-60}
python3 "$here/whole_floats.py" kokoro.onnx kokoro.real.onnx
python3 "$here/speak.py" espeak - espeak.json speech 600 "$workers"
python3 "$here/speak.py" flite "${FLITE:-flite}" flite.json speech 600 "$workers"
python3 "$here/speak.py" kokoro kokoro.real.onnx kokoro.json speech 3000 "$workers" --voices voices.npz --accelerators 4
two() { CUDA_VISIBLE_DEVICES=$1 torchrun --standalone --nproc-per-node 2 "$here/train.py" speech texts.json earlier "${@:2}"; }
two 0,1 even --steps 17686 --seed 4 &
first=$!
two 2,3 narrow --steps 17189 --seed 5 --joined 0.45 --fronts --narrow 0.6
wait "$first"
python3 "$here/export.py" even narrow
