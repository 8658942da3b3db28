#!/usr/bin/env bash
# The sense from its pinned encoder: `make.sh ENCODER.onnx TOLD.json OUT`, on a machine with one accelerator and Python with torch,
# tokenizers, onnx, onnxruntime. TOLD.json is made beforehand (`python -m models.sense.told`). Nine minutes. See README.md.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
echo "7d9092cb25f2bd1c023b7e8d2aa459044a02030ac880e5a59fdaf27af69f1ded  $1" | sha256sum -c
run() { python3 "$here/train.py" "$1" "$here/pieces.json.gz" "$2" "$3/$4" --seed "$4" --seconds 485 --fastest 1.2e-4 & }
run "$1" "$2" "$3" 11
run "$1" "$2" "$3" 12
wait
python3 "$here/export.py" "$1" "$here/pieces.json.gz" "$2" "$3" "$3/11" "$3/12"
