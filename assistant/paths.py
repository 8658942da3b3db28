"""Where the folders that are not code are found: in a checkout, or inside an installed package."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def data_folder(name: str) -> Path:
    """The folder `grammars`, `demo_audio` or `models`, beside the package or (installed) inside it."""
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name
