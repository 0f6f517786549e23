"""Who is who: whoever makes a book is its chief, and he says who the others are."""

from __future__ import annotations

from dataclasses import replace

from specreg.core.errors import Refused, WrongUse
from specreg.services.office import ROLES, Office
from specreg.store import people
from specreg.store.people import Person


def say_person(office: Office, person: Person) -> Person:
    """Enter a person or alter what is said of him. The last chief cannot be unmade."""
    office.require("say who is who")
    # Read inside the act: two chiefs who unmake each other in the same moment must not both succeed.
    with office.book.act(office.person.code, "person", office.now) as act:
        said = _as_it_would_be(office, person)
        people.say(office.book, said)
        act.words = f"{said.code} {said.name}: {', '.join(said.roles) or 'reads only'}"
    return said


def _as_it_would_be(office: Office, person: Person) -> Person:
    """The person with what the book knows of him already; refuses what may not be said."""
    code = person.code.strip().upper()
    _check_department(office, person.department)
    known = people.by_code(office.book, code) if code else None
    if known is not None:
        # What is not said anew stays as it was.
        person = replace(
            person,
            name=person.name or known.name,
            login=person.login or known.login,
            roles=person.roles or known.roles,
            department=person.department or known.department,
        )
    if not code or not person.name.strip():
        raise WrongUse("Enter a person", "initials and a name are needed", "Give both")
    for role in person.roles:
        if role not in ROLES:
            raise WrongUse(f"Role '{role}'", "there is no such role", f"Roles are {', '.join(ROLES)}")
    if "head" in person.roles and not person.department:
        raise WrongUse(f"Make {code} a head", "no department is given", "Give --department CODE")
    others = [one for one in people.everybody(office.book) if one.code != code]
    if "chief" not in person.roles and not any("chief" in one.roles for one in others):
        raise Refused(f"Enter {code}", "the book would be left without a chief", "Make another person chief first")
    taken = next((one for one in others if person.login and one.login == person.login), None)
    if taken is not None:
        raise Refused(f"Enter {code}", f"the login {person.login} is {taken.name}'s", "One login is one person")
    return Person(code, person.name.strip(), person.login, person.roles, person.department.strip().upper())


def _check_department(office: Office, code: str) -> None:
    """The department must be one of the works', as far as the order on the desk says which it has."""
    if not code or office.standing is None:
        return
    standards = office.standards()
    if standards.department(code) is None:
        there = ", ".join(one.code for one in standards.departments)
        raise WrongUse(f"Department {code}", f"the works has {there}", "Give one of these codes")


def everybody(office: Office) -> list[Person]:
    """All persons of the book."""
    return people.everybody(office.book)


def first_chief(office: Office) -> None:
    """Enter the person at the desk as chief of a new book. Inside no act; writes one of its own."""
    with office.book.act(office.person.code, "new", office.now) as act:
        people.say(office.book, office.person)
        act.words = f"the book is made; {office.person.name} is its chief"


def initials(name: str) -> str:
    """Initials of a name (`J. Dunmore` -> `JD`); of a single word, such as a login, its first four letters."""
    words = ["".join(sign for sign in word if sign.isalnum()) for word in name.upper().split()]
    words = [word for word in words if word]
    if len(words) > 1:
        return "".join(word[0] for word in words)
    return words[0][:4] if words else "CHIEF"
