"""Backups in the age format (age-encryption.org/v1): encrypted to public keys, so that making one needs no secret."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from bot.store.errors import StoreError, os_reason

_HEADER = b"age-encryption.org/v1\n"
"""What a file in the format begins with (c2sp.org/age, "Header")."""


def is_encrypted(path: Path) -> bool:
    """Whether a file is in the format. Raises StoreError when it can't be read."""
    try:
        with path.open("rb") as file:
            return file.read(len(_HEADER)) == _HEADER
    except OSError as error:
        raise StoreError(f"{path} can't be read: {os_reason(error)}.") from error


def recipients(keys: Sequence[str]) -> list[Any]:
    """The public keys (`age1…`) to encrypt to. Raises StoreError when one is none."""
    age = _age()
    found = []
    for key in keys:
        try:
            found.append(age.x25519.Recipient.from_str(key.strip()))
        except age.RecipientError as error:
            raise StoreError(f"“{key}” is no public key of age's, which begins with age1.") from error
    return found


def encrypt(plain: Path, target: Path, keys: Sequence[str]) -> None:
    """Writes the plain file, encrypted to all of the keys, to the target. OSError when it can't be written."""
    age = _age()
    with plain.open("rb") as source, target.open("wb") as sink:
        age.encrypt_io(source, sink, recipients(keys))


@contextmanager
def decrypted(path: Path, identity: Path | None) -> Iterator[Path]:
    """The file, or where it is encrypted a decrypted copy that only this user can read, deleted on leaving.

    `identity` is a file with secret keys, as age-keygen writes it. Raises StoreError when they do not fit, or the file
    is damaged.
    """
    if not is_encrypted(path):
        yield path
        return
    if identity is None:
        raise StoreError(f"{path} is encrypted: name the file with its secret key, --identity FILE.")
    age = _age()
    with tempfile.TemporaryDirectory(prefix="tarebook-") as folder:
        plain = Path(folder) / "plain"
        try:
            with path.open("rb") as source, plain.open("wb") as sink:
                age.decrypt_io(source, sink, _identities(identity))
        except age.DecryptError as error:
            raise StoreError(f"{path} can't be decrypted: {error}.") from error
        except OSError as error:
            raise StoreError(f"{path} can't be decrypted: {os_reason(error)}.") from error
        yield plain


def _identities(file: Path) -> list[Any]:
    age = _age()
    try:
        lines = file.read_text(encoding="utf-8").splitlines()
        keys = [line.strip() for line in lines if line.strip() and not line.startswith("#")]
        found = [age.x25519.Identity.from_str(key) for key in keys]
    except OSError as error:
        raise StoreError(f"{file} can't be read: {os_reason(error)}.") from error
    except (age.IdentityError, UnicodeDecodeError):
        found = []
    if not found:
        # What is in it stays out of the message: it may be a secret with a typing error.
        raise StoreError(f"{file} holds no secret key of age's, which begins with AGE-SECRET-KEY-1.")
    return found


def _age() -> Any:
    try:
        import pyrage
    except ImportError:
        raise StoreError("This needs pyrage: pip install 'tarebook[encryption]'.") from None
    return pyrage
