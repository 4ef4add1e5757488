"""The bill of materials that lies in the wheel: every part with its version, licence and hashes, as CycloneDX 1.6."""

from __future__ import annotations

import base64
import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

from cyclonedx.contrib.license.factories import LicenseFactory
from cyclonedx.model import HashAlgorithm, HashType
from cyclonedx.model.bom import Bom
from cyclonedx.model.component import Component, ComponentType
from cyclonedx.output.json import JsonV1Dot6
from packageurl import PackageURL

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
LOCKED = re.compile(r"^([a-z0-9._-]+)==([^ ;\\\n]+)[^\n]*((?:\n +--hash=sha256:[0-9a-f]{64}[^\n]*)*)", re.MULTILINE)
HASH = re.compile(r"sha256:([0-9a-f]{64})")


def licences() -> dict[str, dict[str, str]]:
    """By group (server, apps, hearing): part -> SPDX expression."""
    return tomllib.loads((HERE / "licences.toml").read_text())


def of_the_server() -> Iterator[tuple[str, str, list[HashType]]]:
    """Name, version and the hash of every file that the lock allows."""
    for name, version, hashes in LOCKED.findall((HERE / "lock.txt").read_text()):
        yield name, version, [HashType(alg=HashAlgorithm.SHA_256, content=found) for found in HASH.findall(hashes)]


def of_the_apps() -> Iterator[tuple[str, str, list[HashType]]]:
    """Name, version and hash of what is built into the apps."""
    packages = json.loads((ROOT / "pwa" / "package-lock.json").read_text())["packages"]
    for path, package in packages.items():
        if path and not package.get("dev"):
            digest = base64.b64decode(package["integrity"].removeprefix("sha512-")).hex()
            name = path.removeprefix("node_modules/")
            yield name, package["version"], [HashType(alg=HashAlgorithm.SHA_512, content=digest)]


def bill(version: str) -> Bom:
    """Raises KeyError for a part without a licence in licences.toml."""
    result, licence = Bom(), LicenseFactory()
    whole = Component(name="witnessmark", version=version, type=ComponentType.APPLICATION, bom_ref="witnessmark")
    result.metadata.component = whole
    for group, sort, parts in (("server", "pypi", of_the_server()), ("apps", "npm", of_the_apps())):
        known = licences()[group]
        for name, number, hashes in parts:
            space, _, bare = name.rpartition("/")
            result.components.add(
                Component(
                    name=name,
                    version=number,
                    type=ComponentType.LIBRARY,
                    bom_ref=f"{sort}:{name}@{number}",
                    purl=PackageURL(sort, space or None, bare, number),
                    licenses=[licence.make_from_string(known[name])],
                    hashes=hashes,
                )
            )
    result.register_dependency(whole, list(result.components))
    return result


def as_json(version: str) -> str:
    return JsonV1Dot6(bill(version)).output_as_string(indent=1)
