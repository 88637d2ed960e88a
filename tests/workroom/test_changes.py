"""Changes by path on plain documents."""

import copy

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.workroom.changes import ConflictError, applied, check_conflicts

ENTRIES = [("note",), ("unit",), ("sheets", "s1", "date"), ("sheets", "s1", "measures", "bust"),
           ("sheets", "s1", "measures", "hip"), ("sheets", "s2", "note"), ("alterations", "a1", "amount"),
           ("sheets", "s2"), ("alterations", "a1"), ("sheets", "s1", "measures")]
LEAVES = ENTRIES[:7]


def body():
    return {"note": "", "unit": "cm",
            "sheets": [{"id": "s1", "date": "1", "measures": {"bust": 1, "waist": 2}}, {"id": "s2", "note": ""}],
            "alterations": [{"id": "a1", "amount": 5}, {"id": "a2", "amount": 6}]}


def overlap(a, b):
    return a[:len(b)] == b or b[:len(a)] == a


values = st.sampled_from([None, 7, "x", {}])
some = st.lists(st.tuples(st.sampled_from(ENTRIES), values), max_size=3,
                unique_by=lambda row: row[0]).filter(
    lambda rows: not any(overlap(a[0], b[0]) for i, a in enumerate(rows) for b in rows[:i]))


@given(mine=some, theirs=some)
def test_changes_of_different_entries_go_together_and_of_the_same_do_not(mine, theirs):
    base = body()
    newest = applied(theirs, base)
    apart = not any(overlap(a, b) for a, _ in mine for b, _ in theirs)
    try:
        check_conflicts(mine, base, newest, None)
    except ConflictError as conflict:
        assert not apart and any(overlap(conflict.path, b) for b, _ in theirs)
    else:
        if apart:
            assert applied(mine, newest) == applied(theirs, applied(mine, base))
        else:
            # Whatever they wrote and I touched is either as it was, or what I wanted too.
            for path, value in mine:
                before, now = at(base, path), at(newest, path)
                assert now in (before, value)


@given(changes=some)
def test_the_given_document_stays_as_it_is(changes):
    base = body()
    applied(changes, base)
    assert base == body()


@given(path=st.sampled_from(LEAVES), value=st.sampled_from([7, "x"]))
def test_a_change_touches_its_entry_alone(path, value):
    changed = applied([(path, value)], body())
    assert at(changed, path) == value
    assert applied([(path, at(body(), path))], changed) == body()


def at(document, path):
    for step in path:
        if isinstance(document, list):
            document = next((row for row in document if isinstance(row, dict) and row.get("id") == step), None)
        else:
            document = document.get(step) if isinstance(document, dict) else None
    return document


def test_rows_keep_their_place_and_new_ones_come_last():
    changed = applied([(("alterations", "a1", "amount"), 9), (("alterations", "+"), {"id": "a3"}),
                       (("alterations", "a2"), None)], body())
    assert changed["alterations"] == [{"id": "a1", "amount": 9}, {"id": "a3"}]


def test_a_row_can_be_begun_and_filled_in_one_change():
    changed = applied([(("sheets", "+"), {"id": "s3", "measures": {}}), (("sheets", "s3", "measures", "bust"), 9)],
                      body())
    assert changed["sheets"][-1] == {"id": "s3", "measures": {"bust": 9}}


def test_rows_within_a_new_row_get_ids_too():
    row = applied([(("diary", "+"), {"pictures": [{"words": "a"}, {"words": "b"}]})], {"diary": []})["diary"][0]
    assert len({row["id"], *(p["id"] for p in row["pictures"])}) == 3


def test_names_of_a_pattern_have_no_ids_and_go_by_number():
    labels = {"labels": {"pieces": [{"name": "front", "edges": [{"name": "hem"}, {"name": "side"}]}]}}
    path = ("labels", "pieces", "0", "edges", "1", "name")
    assert applied([(path, "side seam")], labels)["labels"]["pieces"][0]["edges"][1] == {"name": "side seam"}
    with pytest.raises(ConflictError):
        check_conflicts([(path, "a")], labels, applied([(path, "b")], copy.deepcopy(labels)), None)


def test_appending_to_a_list_that_is_gone_is_a_conflict():
    changes = [(("sheets", "s1", "rows", "+"), {"id": "r"})]
    base = {"sheets": [{"id": "s1", "rows": []}]}
    with pytest.raises(ConflictError):
        check_conflicts(changes, base, {"sheets": []}, None)
    check_conflicts(changes, base, {"sheets": [{"id": "s1", "rows": [{"id": "q"}]}]}, None)
