"""Extracts for the writers' tests; every figure in them is invented."""

from __future__ import annotations

from dataclasses import replace

from specreg.core.extracts import Extract, ExtractLine, Reconciliation, TitleBlock

TITLE_BLOCK = TitleBlock(
    legal_owner="Alder & Holm Crane Works",
    document_type="specification extract",
    identification_number="W611-B-FDY-2",
    title="Foundry share",
    supplementary_title="Dockside cranes",
    revision="B",
    date_of_issue="12 Oct 2026",
    creator="J. Marsh",
    approval_person="R. Alder",
    responsible_department="DO",
)

RECONCILIATION = Reconciliation(
    items=2512,
    allocated=2498,
    no_action=14,
    unallocated=0,
    steps=7912,
    in_shares=7912,
    final_off=21060,
    order_off=21060,
)

LINE = ExtractLine(
    sign="",
    number="4.1.1",
    step=2,
    title="Rack segment",
    text="",
    operation="cast",
    off="36+3",
    pieces=39,
    material="cast steel",
    size="",
    weight="3 cwt 1 qr 17 lb",
    drawing="SL-1002/1 rev A",
    pattern="3382",
    came_from="PAT",
    goes_to="MCH",
    machines="",
    hand="",
    supply="make",
    wanted="",
    clearance="make",
    safety="",
    remarks="",
    was="",
    section="4",
    section_title="Slewing gear",
)

LONG = " ".join(f"word{count:03d}" for count in range(50))
"""400 signs, less the space after the last word."""

NASTY = replace(
    LINE,
    sign="»",
    number="4.1.2",
    title='=SUM(A1), "Ø 1½" | λ-bolt\nsecond line',
    text=f"{LONG}\r\nc:\\drawings\\new, *bold* _and_ `code` <b> &amp; ~struck~ [link](x)",
    off="1 pair",
    pieces=None,
    material='mild "best" steel, soft\\|hard',
    size='1 1/4" x 19\'-6½" | ¾" × 5″',
    drawing="SL-1003 rev B, SL-1003/" + "9" * 40,
    machines="1471-1472",
    hand="left",
    clearance="hold",
    safety="lifting",
    remarks="-1, @home, +2",
    was='Size was 1 1/4" x 4 1/2", now 1 1/4" x 19\'-6½"',
)


def many_lines(count: int) -> tuple[ExtractLine, ...]:
    """Lines over sections of seven, some new, some altered, some with text."""
    return tuple(
        replace(
            LINE,
            sign=("", "+", "»", "")[place % 4],
            number=f"{place // 7 + 1}.{place % 7 + 1}",
            section=str(place // 7 + 1),
            section_title=f"Section title {place // 7 + 1}",
            text=LONG if place % 5 == 0 else "",
            was="Off was 24, now 36" if place % 4 == 2 else "",
            safety="lifting" if place % 11 == 3 else "",
        )
        for place in range(count)
    )


WITHDRAWN = replace(
    LINE,
    number="9.3.2",
    title="Drum end, old",
    section="9",
    section_title="Drums",
    sign="",
    was="deleted: cracked in the mould",
)

HELD = replace(LINE, number="4.1.3", title="Rack cover", clearance="Hold", pieces=6, off="6")
GOT_IN = replace(LINE, number="4.1.4", title="Rack bar", clearance="material only", pieces=4, off="4")

SMALL = Extract(
    order="W 611",
    order_title="Three 25-ton dockside cranes",
    machines="1471-1473",
    customer="Port of Ness",
    department="FDY",
    department_name="Foundry",
    number=2,
    title_block=TITLE_BLOCK,
    revision_seal="3F9A-22C1",
    since="extract 1 of revision A",
    changed=True,
    replaces="extract 1 of revision A",
    lines=(LINE, NASTY),
    withdrawn=(WITHDRAWN,),
    pieces=39,
    not_counted=1,
    reconciliation=RECONCILIATION,
    cautions=("Competent persons and the inspecting authority decide on lifting gear.",),
    seal="K7MP4TQ2",
)

LARGE = replace(SMALL, lines=(*many_lines(120), NASTY), withdrawn=(WITHDRAWN, replace(WITHDRAWN, number="9.3.3")))

NIL = replace(
    SMALL,
    department="SMI",
    department_name="Smithy",
    number=1,
    title_block=replace(TITLE_BLOCK, identification_number="W611-C-SMI-1", revision="C"),
    since="",
    replaces="",
    lines=(),
    withdrawn=(),
    pieces=0,
    not_counted=0,
    cautions=(),
)
