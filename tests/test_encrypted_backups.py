"""Backups in the age format, as they are typed."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pyrage
import pytest

from tests.test_commands import found, path, said, with_two_people

__all__ = ["path", "with_two_people"]


@pytest.fixture
def key(tmp_path: Path) -> Path:
    """A file with a secret key, as age-keygen writes it."""
    identity = pyrage.x25519.Identity.generate()
    file = tmp_path / "key.txt"
    file.write_text(f"# created: 2026-03-02T12:00:00Z\n# public key: {identity.to_public()}\n{identity}\n")
    return file


def public(key: Path) -> str:
    match = re.search("public key: (age1.*)", key.read_text())
    assert match
    return match[1]


def test_an_encrypted_backup_comes_back(
    path: Path, key: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = path.with_name("copy.age")
    assert "It is encrypted" in said(capsys, "backup", str(copy), "--recipient", public(key))
    content = copy.read_bytes()
    # c2sp.org/age: a version line, then a stanza for each recipient.
    assert content.startswith(b"age-encryption.org/v1\n-> X25519 ")
    assert b"SQLite" not in content
    assert b"cooked rice" not in content
    assert copy.stat().st_mode & 0o077 == 0
    monkeypatch.setenv("TAREBOOK_DATABASE", f"sqlite:///{path.parent}/new/tarebook.db")
    assert "is as it was" in said(capsys, "restore", str(copy), "--identity", str(key))
    assert [each["name"] for each in found(capsys, "people")] == ["mira", "joao"]
    assert found(capsys, "check")["ok"]
    assert {each.name for each in path.parent.iterdir()} == {"tarebook.db", "copy.age", "key.txt", "new"}


def test_each_of_several_keys_opens_it(path: Path, key: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy, second = path.with_name("copy.age"), pyrage.x25519.Identity.generate()
    said(capsys, "backup", str(copy), "--recipient", str(second.to_public()), "--recipient", public(key))
    assert found(capsys, "restore", str(copy), "--identity", str(key), "--replace")["restored"]
    assert pyrage.decrypt(copy.read_bytes(), [second]).startswith(b"SQLite format 3\0")


def test_without_its_key_nothing_is_changed(path: Path, key: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy, other, empty = path.with_name("copy.age"), path.with_name("other.txt"), path.with_name("empty.txt")
    other.write_text(f"{pyrage.x25519.Identity.generate()}\n")
    empty.write_text("# nothing\nAGE-SECRET-KEY-1TYPO\n")
    said(capsys, "backup", str(copy), "--recipient", public(key))
    before = path.read_bytes()
    restore = ("restore", str(copy), "--replace")
    assert "--identity" in said(capsys, *restore, status=2)
    assert "can't be decrypted" in said(capsys, *restore, "--identity", str(other), status=2)
    refused = said(capsys, *restore, "--identity", str(empty), status=2)
    assert "no secret key" in refused
    assert "TYPO" not in refused
    assert "can't be read" in said(capsys, *restore, "--identity", str(path.with_name("none")), status=2)
    copy.write_bytes(copy.read_bytes()[:-100])
    assert "can't be decrypted" in said(capsys, *restore, "--identity", str(key), status=2)
    assert path.read_bytes() == before


def test_what_is_no_public_key_is_refused_before_anything_is_written(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy = path.with_name("copy.age")
    assert "no public key" in said(capsys, "backup", str(copy), "--recipient", "age1nonsense", status=2)
    assert not copy.exists()


def test_without_the_library_the_command_says_what_to_install(
    path: Path, key: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "pyrage", None)
    copy = path.with_name("copy.age")
    assert "tarebook[encryption]" in said(capsys, "backup", str(copy), "--recipient", public(key), status=2)
