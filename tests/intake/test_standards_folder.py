"""Works standards out of their TOML files, every fault with its file and line."""

from __future__ import annotations

import json

import pytest

from specreg.core.errors import FaultsStop, WrongUse
from specreg.core.standards import Department, House, Material, NumberForm, Rule
from specreg.intake.standards_folder import content_of, read_standards, standards_from_content

HOUSE = '[house]\nworks = "Northbank Works"\nomitted_letters = "IO"\ncautions = ["Weights are estimates."]\n'
DEPARTMENTS = """\
[[department]]
code = "fdy"
name = "Foundry"
operation = "cast"

[[department]]
code = "ERE"
name = "Erecting shop"
operation = "erect"
final = true
"""
ROUTING = """\
[[rule]]
name = "castings"
material = ["cast iron", "cast steel"]
route = "FDY 17+1; ERE 12 & ERE"

[[rule]]
name = "safety"
safety = true
add = "ERE"
before = "ERE"

[[rule]]
name = "grease"
words = ["grease"]
no_action = "bought by the erectors"
"""
MATERIALS = '[[material]]\nname = "cast iron"\ndensity = "7200"\nbasis = "works list"\nalso = ["C.I."]\n'
WORDS = 'synonyms = [\n  ["gudgeon pin", "wrist pin"],\n  ["bush", "liner", "sleeve"],\n]\n'


@pytest.fixture
def folder(tmp_path):
    files = {"house": HOUSE, "departments": DEPARTMENTS, "routing": ROUTING, "materials": MATERIALS, "words": WORDS}
    for name, text in files.items():
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    return tmp_path


def stops(folder):
    with pytest.raises(FaultsStop) as caught:
        read_standards(folder)
    return [(str(fault.place), fault.text) for fault in caught.value.faults]


def test_all_files_are_read(folder):
    standards = read_standards(folder)
    assert standards.house == House("Northbank Works", omitted_letters="IO", cautions=("Weights are estimates.",))
    assert standards.departments == (
        Department("FDY", "Foundry", "cast"),
        Department("ERE", "Erecting shop", "erect", final=True),
    )
    assert standards.rules == (
        Rule("castings", route="FDY 17+1; ERE 12 & ERE", material=("cast iron", "cast steel")),
        Rule("safety", add="ERE", before="ERE", safety=True),
        Rule("grease", no_action="bought by the erectors", words=("grease",)),
    )
    assert standards.materials == (Material("cast iron", "7200", "works list", ("C.I.",)),)
    assert standards.synonyms == (("gudgeon pin", "wrist pin"), ("bush", "liner", "sleeve"))


def test_the_content_goes_through_json_and_gives_the_same_standards(folder):
    standards = read_standards(folder)
    kept = json.loads(json.dumps(standards.content))
    assert standards_from_content(kept) == standards
    assert content_of(standards_from_content(kept)) == standards.content
    assert json.dumps(read_standards(folder).content) == json.dumps(standards.content)


def test_materials_and_words_may_be_missing_and_the_others_not(folder):
    (folder / "materials.toml").unlink()
    (folder / "words.toml").unlink()
    assert read_standards(folder).materials == () and read_standards(folder).synonyms == ()
    (folder / "routing.toml").unlink()
    with pytest.raises(WrongUse, match=r"routing\.toml is missing"):
        read_standards(folder)
    with pytest.raises(WrongUse, match="No folder of works standards"):
        read_standards(folder / "nowhere")


def test_faults_of_all_files_are_told_at_once_with_their_lines(folder):
    (folder / "house.toml").write_text('[house]\nworks = "N"\nsafety_second_check = "yes"\n')
    again = '\n[[department]]\ncode = "ere"\nname = "E"\noperation = "e"\n'
    (folder / "departments.toml").write_text(DEPARTMENTS + again)
    (folder / "routing.toml").write_text('[[rule]]\nname = "x"\nrout = "FDY"\n[[rule]]\nroute = "FDY"\nwords = "pin"\n')
    (folder / "materials.toml").write_text('[[material]]\nname = "steel"\ndensity = 7850\n')
    (folder / "words.toml").write_text('synonyms = ["pin", "bolt"]\n')
    assert stops(folder) == [
        ("house.toml, line 3", "`safety_second_check` must be true or false."),
        ("departments.toml, line 13", "The department ere stands twice, first at departments.toml, line 7."),
        ("routing.toml, line 3", "The key `rout` is not known here. Is `route` meant?"),
        ("routing.toml, line 6", '`words` must be a list of texts, such as key = ["one", "two"].'),
        ("routing.toml, line 4", '`name` is missing under rule; write name = "…".'),
        ("materials.toml, line 3", '`density` must be a text in quotes, such as key = "words";'
         ' write density = "7850".'),
        ("words.toml, line 1", "`synonyms` must be a list of groups of two or more words, such as "
         '[["gudgeon pin", "wrist pin"]].'),
    ]  # fmt: skip


def test_routes_name_known_departments_and_a_rule_has_one_outcome(folder):
    rules = (
        '[[rule]]\nname = "a"\nroute = "FDY; PAT 1 & ERE"\n'
        '[[rule]]\nname = "b"\nroute = "FDY"\nno_action = "none"\n'
        '[[rule]]\nname = "c"\nadd = "ERE;"\nafter = "SMI"\n'
        '[[rule]]\nname = "d"\nroute = "FDY"\nbefore = "ERE"\n'
    )
    (folder / "routing.toml").write_text(rules)
    assert stops(folder) == [
        ("routing.toml, line 3", "`route` names PAT; the departments are ERE, FDY."),
        ("routing.toml, line 4", "The rule b must say one of route, no_action and add; it says route and no_action."),
        ("routing.toml, line 10", "`add` names a step without a department; the departments are ERE, FDY."),
        ("routing.toml, line 11", "`after` names SMI; the departments are ERE, FDY."),
        ("routing.toml, line 15", "`before` has a meaning only beside `add`."),
    ]


def test_a_density_must_be_a_number(folder):
    (folder / "materials.toml").write_text('[[material]]\nname = "steel"\ndensity = "7,85"\n')
    assert stops(folder)[0][0] == "materials.toml, line 3"


NUMBERS = '[[number]]\nof = "drawing"\nform = "AA-999"\nbasis = "letters of the section"\n'


def test_number_forms_are_read_and_kept_in_the_content(folder):
    (folder / "numbers.toml").write_text(NUMBERS, encoding="utf-8")
    standards = read_standards(folder)
    assert standards.numbers == (NumberForm("drawing", "AA-999", "letters of the section"),)
    assert standards_from_content(json.loads(json.dumps(content_of(standards)))) == standards


def test_without_number_forms_the_content_is_what_it_was(folder):
    assert "numbers" not in content_of(read_standards(folder))


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (('of = "drawing"', 'of = "sheet"'), "`sheet` is no kind of number here"),
        (('form = "AA-999"', 'form = "SL-1"'), '"SL-1" fits one number alone'),
    ],
)
def test_a_number_form_that_cannot_be_meant_is_a_stop(folder, wrong, says):
    (folder / "numbers.toml").write_text(NUMBERS.replace(*wrong), encoding="utf-8")
    ((place, text),) = stops(folder)
    assert place.startswith("numbers.toml, line ")
    assert says in text


def test_departments_that_follow_others_are_read_in_capitals(folder):
    (folder / "departments.toml").write_text(DEPARTMENTS + 'follows = ["fdy"]\n', encoding="utf-8")
    standards = read_standards(folder)
    assert standards.department("ERE").follows == ("FDY",)
    assert standards_from_content(json.loads(json.dumps(content_of(standards)))) == standards


@pytest.mark.parametrize("code", ["XYZ", "ERE"])
def test_a_department_follows_another_that_there_is(folder, code):
    (folder / "departments.toml").write_text(f'{DEPARTMENTS}follows = ["{code}"]\n', encoding="utf-8")
    ((place, text),) = stops(folder)
    assert place == "departments.toml, line 11"
    assert f"`follows` names {code}" in text
