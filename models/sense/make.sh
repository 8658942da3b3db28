#!/usr/bin/env bash
# The sense from its pinned encoder: `make.sh ENCODER.onnx TOLD.json OUT`, on a machine with one accelerator and Python with torch,
# tokenizers, onnx, onnxruntime. TOLD.json is made beforehand (`python -m models.sense.told`). Nine minutes. See README.md.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
echo "afdb6f1a0e45b715d0bb9b11772f032c399babd23bfc31fed1c170afc848bdb1  $1" | sha256sum -c
run() { python3 "$here/train.py" "$1" "$here/pieces.json.gz" "$2" "$3/$4" --seed "$4" --seconds 420 --fastest 1.5e-4 & }
run "$1" "$2" "$3" 11
run "$1" "$2" "$3" 12
wait
python3 "$here/export.py" "$1" "$here/pieces.json.gz" "$2" "$3" "$3/11" "$3/12"
