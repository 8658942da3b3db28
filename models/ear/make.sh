#!/usr/bin/env bash
# The ear from its pinned sources: `make.sh FOLDER`, in a folder that holds what README.md names under "From what".
# On a machine with an accelerator, Python with torch, onnx, onnxruntime, numpy, soxr, espeakng-loader; texts.json and the jobs
# are made beforehand (texts.py with the product's Python, jobs.py where kokoro-onnx is installed). 7 minutes of speech, 19 of training.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
cd "$1"
sha256sum -c "$here/sources.sha256"
workers=${WORKERS:-14}
python3 "$here/whole_floats.py" kokoro.onnx kokoro.real.onnx
python3 "$here/encoder.py" encoder_model.ort encoder.npz
python3 "$here/speak.py" espeak - espeak.json speech 600 "$workers"
python3 "$here/speak.py" flite "${FLITE:-flite}" flite.json speech 600 "$workers"
python3 "$here/speak.py" kokoro kokoro.real.onnx kokoro.json speech 3000 "$workers" --voices voices.npz
python3 "$here/train.py" speech texts.json encoder.npz trained --steps 15500 --seed 2
python3 "$here/export.py" trained
