"""The technician's key: a seal signed with it was made by who has the key, and by nobody else. The one door to cryptography."""

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

KEY_MODE = 0o600
_MISSING = "the package 'cryptography' is not installed: pip install 'rackcall[signing]'"


class SigningMissing(Exception):
    """The library that signs is not installed."""


@dataclass(frozen=True)
class Signature:
    key: str
    """The public key, 64 hexadecimal digits."""
    signature: str
    """128 hexadecimal digits."""


def key_file() -> Path:
    """Where the technician's own key is kept."""
    from platformdirs import user_config_path

    return user_config_path("rackcall") / "key.pem"


def _library() -> tuple[Any, Any]:
    try:
        from cryptography.hazmat.primitives import serialization
        from cryptography.hazmat.primitives.asymmetric import ed25519
    except ImportError as error:
        raise SigningMissing(_MISSING) from error
    return ed25519, serialization


def new_key() -> str:
    """Make the technician's key. Returns its public part.

    Raises:
        FileExistsError: there is one already; it is not replaced.
        SigningMissing: the library is not installed.
    """
    ed25519, serialization = _library()
    key = ed25519.Ed25519PrivateKey.generate()
    text = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    file = key_file()
    file.parent.mkdir(parents=True, exist_ok=True)
    with open(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, KEY_MODE), "wb") as sink:
        sink.write(text)
    return _public(key)


def _public(key: Any) -> str:
    return str(key.public_key().public_bytes_raw().hex())


def _own_key() -> Any:
    """The technician's key.

    Raises:
        FileNotFoundError: there is none.
        SigningMissing: the library is not installed.
        ValueError: the file holds no Ed25519 key.
    """
    text = key_file().read_bytes()
    ed25519, serialization = _library()
    try:
        key = serialization.load_pem_private_key(text, None)
    except Exception as error:
        raise ValueError(f"{key_file()} holds no key ({error})") from error
    if not isinstance(key, ed25519.Ed25519PrivateKey):
        raise ValueError(f"{key_file()} holds no Ed25519 key")
    return key


def public_key() -> str:
    """The public part of the technician's key; raises as `_own_key` does."""
    return _public(_own_key())


def _what(call: str, head: str) -> bytes:
    """What is signed: the call's name and the hash of its seal, which chains every line of it."""
    return f"rackcall seal\n{call}\n{head}\n".encode()


def sign(call: str, head: str) -> Signature | None:
    """A seal's signature; None without a key, and with one that cannot be used: a call is sealed all the same."""
    try:
        key = _own_key()
    except (OSError, SigningMissing, ValueError):
        return None
    return Signature(_public(key), key.sign(_what(call, head)).hex())


def is_good(signature: Signature, call: str, head: str) -> bool:
    """Whether who has this key signed this seal.

    Raises:
        SigningMissing: the library is not installed.
    """
    ed25519, _ = _library()
    try:
        key = ed25519.Ed25519PublicKey.from_public_bytes(bytes.fromhex(signature.key))
        key.verify(bytes.fromhex(signature.signature), _what(call, head))
    except Exception as error:  # the library names what is wrong with a signature by a class of its own
        if type(error).__name__ not in ("InvalidSignature", "ValueError"):
            raise
        return False
    return True
