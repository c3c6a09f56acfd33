"""A user's own packs: beside the shipped ones, added to them, left out where they are bad, private rows kept at home."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from auditor import audit
from auditor.cli import main
from auditor.share import shared
from claims.own_packs import joined
from claims.pack import Pack, shipped_packs
from claims.pack_extension import has_private, public
from tests.keeper_cases import EXAMPLES, HEAD, NUMBERS, SCHEME, write_pack

LISTING = "Tollmer tricycle of 1925\nYear: 1925\n\nTollmer tricycle, frame number TM 1500, with a hexagonal lid. Built 1925.\n"
SECRET = "ZQX-SECRET"
EXTENSION = """extends = "northmark_pattern5"
title = "More of the Pattern 5 (invented)"
default_source = "S1"
[[source]]
source_id = "S1"
title = "A keeper's notebook, invented"
standing = "invented"
[[name]]
canonical = "Tollenby Carrier"
kind = "model"
maker = "Quillfeather Motor Works"
[[example]]
example = "from the notebook"
as_written = "28Q 02960"
expected = "decodes"
part = "frame"
"""
PRIVATE = f"""
[[feature]]
feature = "lid"
part = "body"
name = "{SECRET} lid"
where = "{SECRET} under the hinge"
private = true
[[variant]]
feature = "lid"
variant = "hexagonal"
words = ["hexagonal lid"]
[[feature_span]]
feature = "lid"
variant = "hexagonal"
maker = "Tollmer"
from = "1931"
to = "1931"
[[place]]
part = "frame"
maker = "Tollmer"
method = "stamped"
place = "{SECRET} left lug"
private = true
[[mark]]
mark = "dot"
looks_like = "{SECRET} dot behind the M"
maker = "Tollmer"
private = true
[[source]]
source_id = "S2"
title = "{SECRET} letter"
standing = "invented"
"""
PRIVATE_NUMBERS = NUMBERS.replace("source_id\n", "source_id,remark,private\n").replace(",S1\n", ",S1,,\n") + f"3000,3999,1933,S2,{SECRET} row,yes\n"


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


def listing(folder: Path, text: str = LISTING) -> str:
    path = folder / "listing.txt"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_an_own_pack_is_used_beside_the_shipped_ones(own_packs: Path, tmp_path: Path) -> None:
    write_pack(own_packs)
    result = run("check", listing(tmp_path), "--format", "json")
    assert result.exit_code == 0
    record = json.loads(result.stdout)
    found = [f for f in record["findings"] if f["rule"] == "tollmer/numbers"]
    assert [f["grade"] for f in found] == ["doubt"], "no part of the pack carries the identity"
    assert record["faults"] == []
    assert "tollmer" in run("packs").stdout
    assert "Tollmer tricycles" in run("explain", "tollmer").stdout
    assert "tollmer" in run("explain").stdout.split()


@pytest.mark.parametrize("form", ["text", "html", "md", "json"])
def test_a_bad_pack_never_stops_an_audit_and_is_named(own_packs: Path, tmp_path: Path, form: str) -> None:
    write_pack(own_packs, "good")
    write_pack(own_packs, "broken", toml="colour = 1\n" + HEAD)
    write_pack(own_packs, "garbled", toml="= = [")
    (own_packs / "empty").mkdir()
    (own_packs / "a file").write_text("no pack")
    result = run("check", listing(tmp_path), "--format", form)
    assert result.exit_code == 0
    assert "broken left out: pack.toml line 1: colour: no key of that name" in result.stderr
    assert len(result.stderr.splitlines()) == 3, "one line for each bad pack"
    assert all(name in result.stdout for name in ("broken", "garbled"))
    assert "TM 1500" in result.stdout
    for command in (["packs"], ["explain", "good"], ["claims", str(tmp_path / "none.jsonl")]):
        assert "Traceback" not in run(*command).output


def test_a_pack_that_fails_while_reading_is_named_and_left_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_pack(tmp_path)

    def failing(pack: Pack) -> object:
        if pack.id == "tollmer" and "listing" in calls:
            raise RuntimeError("out of order")
        return {}

    calls: list[str] = []
    monkeypatch.setattr(Pack, "runs", property(failing))
    packs = joined(shipped_packs(), [tmp_path / "tollmer"]).packs
    calls.append("listing")
    from auditor.own_rules import audited
    from extractors.intake import documents

    (document,) = documents(listing(tmp_path))
    result = audited(document, packs)
    assert [(f.where, "out of order" in f.message) for f in result.faults] == [("pack of your own: tollmer", True)]
    assert any(c.kind == "year" for c in result.claims)


def test_an_extension_adds_and_changes_nothing(own_packs: Path) -> None:
    (base,) = (p for p in shipped_packs() if p.id == "northmark_pattern5")
    before = (len(base.names), len(base.table("dating_frame")), dict(base.sources))
    rows = "maker,scheme_group,period,first,last,source_id\nQuillfeather Motor Works,,1939-01,90001,90002,S1\n"
    folder = write_pack(own_packs, "notebook", toml=EXTENSION)
    (folder / "numbers.csv").unlink()
    (folder / "dating_frame.csv").write_text(rows)
    known = joined(shipped_packs(), [folder])
    assert known.left_out == ()
    (pack,) = (p for p in known.packs if p.id == "northmark_pattern5")
    assert "Tollenby Carrier" in pack.known_names
    assert pack.source("notebook:S1").title == "A keeper's notebook, invented"
    assert pack.table("dating_frame")[-1]["source_id"] == "notebook:S1"
    assert len(pack.table("dating_frame")) == before[1] + 1
    assert (len(base.names), len(base.table("dating_frame")), dict(base.sources)) == before
    assert len(known.packs) == len(shipped_packs())
    result = audit("1931 Tollenby Carrier\n\nTollenby Carrier, frame number 33Q 08450 B.", known.packs)
    assert any(c.value == "Tollenby Carrier" for c in result.claims)


@pytest.mark.parametrize(
    ("toml", "said"),
    [
        (EXTENSION.replace("northmark_pattern5", "nothing_ships"), "extends: no pack 'nothing_ships' ships"),
        (EXTENSION.replace("title =", 'identity = "engine"\ntitle =', 1), "identity: stays that of the shipped pack"),
        (EXTENSION + '[[part]]\npart = "frame"\nname = "x"\n', "part: 'frame' is there already in the shipped pack"),
    ],
)
def test_what_an_extension_may_not_do(own_packs: Path, toml: str, said: str) -> None:
    folder = write_pack(own_packs, "notebook", toml=toml)
    (left,) = joined(shipped_packs(), [folder]).left_out
    assert said in left.why


def test_a_shipped_name_cannot_be_taken(own_packs: Path) -> None:
    (left,) = joined(shipped_packs(), [write_pack(own_packs, "triumph_twins")]).left_out
    assert "ships already" in left.why


def test_patterns_of_all_own_packs_together_are_bounded(own_packs: Path) -> None:
    toml = HEAD + "".join(
        SCHEME.replace('"numbers"\npart', f'"n{n}"\npart').replace("(?P<serial>\\d{3,5})", f"(?P<serial>\\d{{3,5}})(?:[A-Y]{{1,{40 + n % 40}}})?")
        for n in range(290)
    )
    folders = [write_pack(own_packs, f"many{n}", toml=toml) for n in range(3)]
    known = joined(shipped_packs(), folders)
    assert any("too large together" in left.why for left in known.left_out)
    result = audit("33Q 08450 B\n\nQuillfeather carrier, frame number 33Q 08450 B. Tollmer frame TM 1200.", known.packs, strict=True)
    assert {d.rule for d in result.decodings} >= {"northmark_pattern5/qf_frame_checked"}, "shipped forms still work beside them"


def test_private_rows_are_used_at_home_and_stay_there(own_packs: Path, tmp_path: Path) -> None:
    write_pack(own_packs, toml=HEAD + SCHEME + EXAMPLES + PRIVATE, numbers=PRIVATE_NUMBERS)
    (pack,) = (p for p in joined(shipped_packs(), [own_packs / "tollmer"]).packs if p.id == "tollmer")
    assert has_private(pack)
    assert not has_private(public([pack])[0])
    text = LISTING.replace("TM 1500", "TM 3500")
    path = listing(tmp_path, text)
    at_home = run("check", path)
    assert "1933" in at_home.stdout, "the private row dates the number at home"
    assert f"{SECRET} lid" in at_home.stdout, "the private feature is checked at home"
    assert "rows that you marked private" in " ".join(at_home.stdout.split())
    shown = {
        " ".join(arguments): run(*arguments)
        for arguments in (
            *(["check", path, "--share", "--format", form] for form in ("text", "html", "md", "json", "letter")),
            *(["sheet", path, "--format", form] for form in ("text", "html", "csv")), ["inspect", path, "--share"],
            ["inspect", path, "--share", "--format", "html"],
            ["check", path, "--format", "letter"], ["packs"], ["packs", "tollmer"], ["explain", "tollmer"], ["explain"],
        )
    }  # fmt: skip
    for command, result in shown.items():
        assert result.exit_code in {0, 1}, (command, result.output)
        assert SECRET not in result.output, command
        assert "marked private" not in result.output, command
        assert "1933" not in result.output, command
        assert "hexagonal=" not in result.output, command
        assert "lid=" not in result.output, command
    assert run("dossier", path, "--output", str(tmp_path / "dossier")).exit_code == 0
    for made in (tmp_path / "dossier").rglob("*"):
        assert made.is_dir() or SECRET.encode() not in made.read_bytes(), made.name
    questions = json.loads(run("check", path, "--format", "json").stdout)["questions"]
    assert SECRET not in json.dumps(questions), "questions go to the seller, also those of the report at home"


def test_sharing_an_audit_with_private_rows_is_refused_and_paths_stay_out(own_packs: Path, tmp_path: Path) -> None:
    write_pack(own_packs, toml=HEAD + SCHEME + EXAMPLES + PRIVATE, numbers=PRIVATE_NUMBERS)
    packs = joined(shipped_packs(), [own_packs / "tollmer"]).packs
    with pytest.raises(ValueError, match="private rows in tollmer"):
        shared(audit(LISTING, packs))
    write_pack(own_packs, "broken", toml=HEAD.replace('standing = "invented"', f'standing = "{SECRET}"'))
    result = run("check", listing(tmp_path), "--share", "--format", "json")
    assert SECRET not in result.stdout
    assert {"where": "pack of your own", "message": "left out"} in json.loads(result.stdout)["faults"]


def test_the_picture_leaves_private_rows_out_unless_asked(own_packs: Path) -> None:
    folder = write_pack(own_packs, toml=HEAD + SCHEME + EXAMPLES + PRIVATE, numbers=PRIVATE_NUMBERS)
    assert run("pack", "check", "tollmer").exit_code == 0
    page = (folder / "number-lines.html").read_text(encoding="utf-8")
    assert "3000" not in page
    assert "1 private row not drawn" in page
    run("pack", "check", "tollmer", "--private")
    assert "3000 to 3999: 1933" in (folder / "number-lines.html").read_text(encoding="utf-8")
