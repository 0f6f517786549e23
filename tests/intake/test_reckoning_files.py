"""reckoning.toml and sections.toml of a folder of works standards, every fault with its file and line."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from specreg.core.errors import FaultsStop
from specreg.core.reckoning_standards import Allowance, Contraction, CuttingRule, LeadTime, Reckoning, SectionTable
from specreg.core.standards import Standards
from specreg.intake.standards_folder import content_of, read_standards, standards_from_content

HOUSE = '[house]\nworks = "Northbank Works"\n'
DEPARTMENTS = '[[department]]\ncode = "FDY"\nname = "Foundry"\noperation = "cast"\n'
ROUTING = '[[rule]]\nname = "castings"\nroute = "FDY"\n'
MATERIALS = '[[material]]\nname = "cast iron"\ndensity = "7200"\nalso = ["C.I."]\n'
RECKONING = """\
[reckoning]
ton = "long"
spare_assemblies_bring_parts = false
doubt_above = "10"
shrink_fit = "0.001 in"
shrink_fit_basis = "Dooley"

[[cutting]]
kinds = ["round"]
materials = ["c.i."]
stock = ["20 ft", "6 m"]
kerf = "1/8 in"
end_trim = "0 in"
chuck_grip = "3 in"
least_offcut = "12 in"
basis = "works figures"

[[allowance]]
materials = ["cast iron"]
per_face = "1/8 in"
basis = "Dooley"

[[contraction]]
materials = ["cast iron"]
per_foot = "1/8 in"
basis = "shrink rule"

[[lead_time]]
supply = ["buy"]
materials = ["cast iron"]
kinds = ["plate"]
time = "12 weeks"
basis = "the mill"
"""
SECTIONS = """\
[[table]]
name = "universal beams"
form = "I-section"
words = ["UB"]
density = "7850"
basis = "practice table"
sections = [
  "203x133x25: 25.1 kg/m, 32.0 cm2",
]

[[table]]
name = "angles"
form = "angle"
words = ["RSA", "L"]
unit = "mm"
density = "7850"
basis = "practice table"
sections = ["50x50x6: 4.47 kg/m, 5.69 cm2"]
"""


@pytest.fixture
def folder(tmp_path):
    files = {
        "house": HOUSE, "departments": DEPARTMENTS, "routing": ROUTING, "materials": MATERIALS,
        "reckoning": RECKONING, "sections": SECTIONS,
    }  # fmt: skip
    for name, text in files.items():
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    return tmp_path


def stops(folder):
    with pytest.raises(FaultsStop) as caught:
        read_standards(folder)
    return [(str(fault.place), fault.text) for fault in caught.value.faults]


def with_change(folder, file, old, new):
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return stops(folder)


def test_both_files_are_read(folder):
    standards = read_standards(folder)
    assert standards.reckoning == Reckoning(
        ton="long",
        spare_assemblies_bring_parts=False,
        doubt_above="10",
        shrink_fit="0.001 in",
        shrink_fit_basis="Dooley",
        cutting=(
            CuttingRule(
                ("round",), ("20 ft", "6 m"), "1/8 in", "0 in", "3 in", "12 in", "works figures", ("c.i.",)
            ),
        ),
        allowances=(Allowance(("cast iron",), "1/8 in", "Dooley"),),
        contractions=(Contraction(("cast iron",), "1/8 in", "shrink rule"),),
        lead_times=(LeadTime("12 weeks", "the mill", ("buy",), ("cast iron",), ("plate",)),),
    )  # fmt: skip
    assert standards.sections == (
        SectionTable(
            "universal beams", "I-section", ("UB",), "7850", "practice table", ("203x133x25: 25.1 kg/m, 32.0 cm2",)
        ),
        SectionTable(
            "angles", "angle", ("RSA", "L"), "7850", "practice table", ("50x50x6: 4.47 kg/m, 5.69 cm2",), "mm"
        ),
    )


def test_the_content_goes_through_json_and_gives_the_same_standards(folder):
    standards = read_standards(folder)
    kept = json.loads(json.dumps(standards.content))
    assert standards_from_content(kept) == standards
    assert content_of(standards_from_content(kept)) == standards.content
    assert standards.content["reckoning"]["spare_assemblies_bring_parts"] is False


def test_standards_without_them_keep_the_content_and_digest_that_they_had(folder):
    (folder / "reckoning.toml").unlink()
    (folder / "sections.toml").unlink()
    standards = read_standards(folder)
    assert standards.reckoning == Reckoning() and standards.sections == ()
    assert list(standards.content) == ["house", "departments", "rules", "materials", "synonyms"]
    # The digest that a book held for such a folder before these files were known.
    text = json.dumps(standards.content, ensure_ascii=False, separators=(",", ":"))
    assert hashlib.sha256(text.encode()).hexdigest()[:16] == "351b56b403ba5341"
    older = standards_from_content(json.loads(text))
    assert older == standards and older.reckoning.ton == "" and older.reckoning.spare_assemblies_bring_parts is None


def test_an_empty_reckoning_says_nothing(folder):
    (folder / "reckoning.toml").write_text("")
    (folder / "sections.toml").write_text("")
    standards: Standards = read_standards(folder)
    assert "reckoning" not in standards.content and standards.reckoning == Reckoning()


@pytest.mark.parametrize(
    ("old", "new", "line", "text"),
    [
        ('ton = "long"', 'ton = "british"', 2,
         '`ton` is "british"; write one of long, short, metric: 2240 lb, 2000 lb or 1000 kg.'),
        ('ton = "long"', 'tun = "long"', 2, "The key `tun` is not known here. Is `ton` meant?"),
        ("= false", '= "no"', 3, "`spare_assemblies_bring_parts` must be true or false."),
        ('doubt_above = "10"', 'doubt_above = "10 %"', 4,
         '`doubt_above` is "10 %"; write a number of per cent, such as "10".'),
        ('doubt_above = "10"', "doubt_above = 10", 4,
         '`doubt_above` must be a text in quotes, such as key = "words"; write doubt_above = "10".'),
        ('shrink_fit = "0.001 in"', 'shrink_fit = "0.001"', 5,
         "`shrink_fit`: 0.001 — of what? Write 0.001 mm or 0.001\"."),
        ('shrink_fit_basis = "Dooley"\n', "", 5,
         "`shrink_fit` and `shrink_fit_basis` go together: write what the figure rests on."),
        ('kinds = ["round"]', 'kinds = ["round", "plate"]', 9,
         "plate is no form that is cut to length; these are: flat, round, square, hexagon, tube, angle, tee, channel, "
         "I-section, rail, wire."),
        ('kinds = ["round"]', "kinds = []", 9, "`kinds` is empty."),
        ('materials = ["c.i."]', 'materials = ["cast irn"]', 10, "cast irn is not in the works' list of materials."),
        ('"6 m"]', '"6"]', 11, "`stock`: 6 — of what? Write 6 mm or 6\"."),
        ('"6 m"]', '"0 m"]', 11, "`stock` is nought; write more."),
        ('kerf = "1/8 in"', 'kerf = "about 1/8 in"', 12, "`kerf` is about 1/8 in; a rule is exact."),
        ('kerf = "1/8 in"\n', "", 8, '`kerf` is missing under cutting; write kerf = "…".'),
        ('basis = "works figures"', 'basis = " "', 16, "`basis` is empty under cutting."),
        ('per_face = "1/8 in"', 'per_face = "3 lb"', 20, "`per_face`: 3 lb — this is a weight, not a length. "
         "Write it as 19' 6 1/2\", 6 in or 25.4 mm."),
        ('time = "12 weeks"', 'time = "3 months"', 32,
         "`time`: 3 months — it is no time in days or weeks. Write it as 12 weeks or 10 days."),
        ('time = "12 weeks"\n', "", 28, '`time` is missing under lead_time; write time = "…".'),
        ('supply = ["buy"]', 'supply = ["bought"]', 29,
         "bought is no supply; these are: make, buy, stock, free issue."),
        ('kinds = ["plate"]', 'kinds = ["plait"]', 31,
         "plait is no form; these are: plate, sheet, chequered plate, flat, round, square, hexagon, tube, angle, tee, "
         "channel, I-section, rail, wire, ring, disc, block, fastener, by weight."),
        ('ton = "long"', 'ton = "long"\nslack = "soon"', 3,
         "`slack`: soon — it is no time in days or weeks. Write it as 12 weeks or 10 days."),
        ("[[contraction]]", "[contraction]", 23, "Head each contraction with [[contraction]]."),
        ("[[contraction]]", "[[contractions]]", 23,
         "`contractions` is not known here; reckoning.toml holds `reckoning`, `cutting`, `allowance`, `contraction`, "
         "`lead_time`."),
    ],
)  # fmt: skip
def test_faults_of_the_rules(folder, old, new, line, text):
    assert with_change(folder, "reckoning.toml", old, new) == [(f"reckoning.toml, line {line}", text)]


@pytest.mark.parametrize(
    ("old", "new", "line", "text"),
    [
        ('form = "I-section"', 'form = "beam"', 3,
         "beam is no form of section; these are: angle, tee, channel, I-section, rail."),
        ('words = ["UB"]', 'words = "UB"', 4, '`words` must be a list of texts, such as key = ["one", "two"].'),
        ('density = "7850"', 'density = "7,85"', 5,
         'The density of universal beams is "7,85"; write kilograms per cubic metre.'),
        ('density = "7850"', 'density = "0"', 5,
         'The density of universal beams is "0"; write kilograms per cubic metre.'),
        ("25.1 kg/m", "25.1", 7,
         '"203x133x25: 25.1, 32.0 cm2" is no section; write "203x133x25: 25.1 kg/m, 32.0 cm2".'),
        ('cm2",\n]', 'cm2",\n  "203 x 133 x 25: 25 kg/m",\n]', 7, "203x133x25 stands twice in universal beams."),
        ('name = "angles"', 'name = "Universal beams"', 12,
         "The table Universal beams stands twice, first at sections.toml, line 2."),
        ('unit = "mm"', 'unit = "feet"', 15,
         '`unit` is "feet"; write mm or in where designations are sizes, else leave it out.'),
        ("50x50x6:", "50x50xsix:", 18,
         '"50x50xsix: 4.47 kg/m, 5.69 cm2" is no section; write "203x133x25: 25.1 kg/m, 32.0 cm2".'),
        ('unit = "mm"', 'units = "mm"', 15, "The key `units` is not known here. Is `unit` meant?"),
    ],
)  # fmt: skip
def test_faults_of_the_tables(folder, old, new, line, text):
    assert with_change(folder, "sections.toml", old, new) == [(f"sections.toml, line {line}", text)]


def test_the_standards_of_the_sample_say_what_each_figure_rests_on():
    standards = read_standards(Path(__file__).parents[2] / "shared")
    rules = standards.reckoning
    assert rules.ton == "long" and rules.spare_assemblies_bring_parts is False and rules.doubt_above == "10"
    assert all(one.basis for one in (*rules.cutting, *rules.allowances, *rules.contractions, *standards.sections))
    assert sum(len(table.sections) for table in standards.sections) == 86
