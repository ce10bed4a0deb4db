"""Write a bill of materials (CycloneDX 1.6, ECMA-424, as JSON) of what comes with a wheel.

Called by ``tools/audit.py`` with the interpreter that has the library for it:
``write_bill.py WHEEL BILL``, the components as JSON on standard input.
"""

import hashlib
import json
import sys
from pathlib import Path
from typing import Any

from cyclonedx.contrib.license.factories import LicenseFactory
from cyclonedx.model import HashAlgorithm, HashType
from cyclonedx.model.bom import Bom
from cyclonedx.model.component import Component, ComponentType
from cyclonedx.output import make_outputter
from cyclonedx.schema import OutputFormat, SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator
from packageurl import PackageURL

VERSION = SchemaVersion.V1_6
LICENCES = LicenseFactory()


def describe(one: dict[str, Any]) -> Component:
    """A component of the bill, with its licences and its package URL."""
    namespace, _, name = one["name"].rpartition("/")
    return Component(
        type=ComponentType.LIBRARY,
        name=one["name"],
        version=one["version"],
        purl=PackageURL(one["kind"], namespace or None, name, one["version"]),
        bom_ref=f"{one['kind']}/{one['name']}",
        licenses=[LICENCES.make_from_string(claim) for claim in one["claims"]],
    )


def write_bill(wheel: Path, components: list[dict[str, Any]], target: Path) -> None:
    """Write the bill, and see that it is what the standard asks for."""
    name, version = wheel.name.split("-")[:2]
    bom = Bom()
    bom.metadata.component = Component(
        type=ComponentType.APPLICATION,
        name=name,
        version=version,
        purl=PackageURL("pypi", None, name, version),
        bom_ref=f"pypi/{name}",
        licenses=[LICENCES.make_from_string("Apache-2.0")],
        hashes=[HashType(alg=HashAlgorithm.SHA_256, content=_hash(wheel))],
    )
    parts = [describe(one) for one in components]
    bom.components.update(parts)
    bom.register_dependency(bom.metadata.component, parts)
    text = make_outputter(bom, OutputFormat.JSON, VERSION).output_as_string(indent=2)
    if fault := JsonStrictValidator(VERSION).validate_str(text):
        raise SystemExit(f"The bill is not as the standard asks: {fault}")
    target.write_text(text + "\n", "utf-8")


def _hash(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


if __name__ == "__main__":
    write_bill(Path(sys.argv[1]), json.loads(sys.stdin.read()), Path(sys.argv[2]))
