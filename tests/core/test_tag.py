"""Tag ids find every slip of a hand; the QR text never fails, stays in its set, and reads back."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.problems import Problem
from core.tag import (
    ALPHABET,
    HEAD,
    ID_COUNT,
    KEYS,
    LONGEST_PAYLOAD,
    QR_CHARACTERS,
    WEIGHTS,
    TagEssentials,
    check_sum,
    id_text,
    make_id,
    payload,
    plain,
    read_id,
    read_payload,
)

NUMBERS = st.integers(0, ID_COUNT - 1)
WORST = st.text(max_size=400)
MAYBE_KEYS = st.sampled_from(["LEN: 1", "SLEEVE:9", "DEMO", "PITSPLICE", "1⅝", "ſß", "²", "Ø 41,3", "４１30", '1.625"'])
TEXTS = st.one_of(WORST, MAYBE_KEYS, st.lists(MAYBE_KEYS, max_size=30).map(" ".join))


def essentials(**changes: str) -> TagEssentials:
    said = {
        "id": "7K3M9QX3", "tube": "1.625 × .120 DOM 1020", "sleeve": "1.875 × .120 DOM 1020", "end": "pointed",
        "mitre_deg": "60", "length": "8-1/8 in", "date": "2026-11-25", "method": "outer sleeve",
    }  # fmt: skip
    return TagEssentials(**{**said, **changes})


def is_whole(id: str) -> bool:
    try:
        return read_id(id) == id
    except Problem:
        return False


def test_the_alphabet_has_a_prime_count_and_no_look_alikes():
    assert len(set(ALPHABET)) == len(ALPHABET) == 31  # hand: 8 digits + 23 letters
    assert not set("01OIL") & set(ALPHABET)


def test_by_algebra_no_single_error_and_no_swap_keeps_the_sum():
    # The sum is linear, so these two loops are the whole proof. hand: w·d = 0 mod 31 only for w or d = 0.
    for weight in WEIGHTS:
        assert all(weight * difference % 31 for difference in range(1, 31))
    for one, other in combinations(WEIGHTS, 2):
        assert all((one - other) * difference % 31 for difference in range(1, 31))


@given(NUMBERS)
def test_every_wrong_character_and_every_swap_is_found(number):
    id = make_id(number)
    assert is_whole(id)
    for place, right in enumerate(id):
        for wrong in ALPHABET.replace(right, ""):
            assert not is_whole(id[:place] + wrong + id[place + 1 :])
    for a, b in combinations(range(8), 2):
        swapped = list(id)
        swapped[a], swapped[b] = swapped[b], swapped[a]
        assert is_whole("".join(swapped)) == (id[a] == id[b])


@given(NUMBERS, NUMBERS)
def test_different_numbers_give_different_ids(one, other):
    assert (make_id(one) == make_id(other)) == (one == other)


def test_the_check_character_by_hand():
    # hand: places of 7 K 3 M 9 Q X are 5 17 1 18 7 21 28.
    # hand: 8·5 + 7·17 + 6·1 + 5·18 + 4·7 + 3·21 + 2·28 = 402 = 12·31 + 30; 1 is missing, and place 1 is "3".
    assert check_sum("7K3M9QX") == 30
    assert ALPHABET[1] == "3"
    assert check_sum("7K3M9QX3") == 0


@pytest.mark.parametrize("number", [-1, ID_COUNT])
def test_a_number_outside_the_range_is_the_callers_fault(number):
    with pytest.raises(ValueError, match="random_number"):
        make_id(number)


@pytest.mark.parametrize("text", [
    "7K3M9QX3", "7k3m-9qx3", " 7K3M 9QX3\n", "7K3M–9QX3", "７Ｋ３Ｍ９ＱＸ３", "7-K-3-M-9-Q-X-3",
    "https://pits.local/tags/7K3M-9QX3", "http://10.0.0.2:8000/tags/7k3m9qx3/", "http://10.0.0.2/?id=7K3M-9QX3",
    "https://pits.local/#7K3M-9QX3", "PITSPLICE 7K3M-9QX3", "PITSPLICE 7K3M 9QX3", "pitsplice 7k3m-9qx3 demo tube:x",
    "PITSPLICE 7K3M-9QX3 TUBE:1.625X.120 LEN:8-1/8 IN",
])  # fmt: skip
def test_an_id_is_read_however_it_comes(text):
    assert read_id(text) == "7K3M9QX3"


@pytest.mark.parametrize(("text", "says"), [
    ("7K3M-9QO3", 'no O or 0|character 7 ("O")'), ("7K3M-9Q03", 'no O or 0|character 7 ("0")'),
    ("IK3M-9QX3", 'no I, L or 1|character 1 ("I")'), ("7l3m9qx3", 'no I, L or 1|character 2 ("L")'),
    ("1K3M-9QX3", 'no I, L or 1|character 1 ("1")'), ("7K3M-9Q*3", 'no "*"|character 7 ("*")'),
    ("7K3M-9QX", "8 characters; this has 7|both groups"), ("7K3M-9QX33", "this has 9|both groups"),
    ("", "this has 0|both groups"), ("PITSPLICE", "this has 0|both groups"),
    ("PITSPLICE 7K3M DEMO", "this has 4|both groups"),
    ("7K3M-9QX4", "wrong, or two are swapped|8 and B"), ("K73M-9QX3", "wrong, or two are swapped|8 and B"),
    (None, "not an id|beside the code"), ("A" * 2001, "not an id|beside the code"),
])  # fmt: skip
def test_a_bad_id_says_where_to_look(text, says):
    with pytest.raises(Problem) as caught:
        read_id(text)
    title, step = says.split("|")
    assert title in caught.value.title
    assert step in caught.value.next_step
    assert (caught.value.kind, caught.value.status, caught.value.field) == ("bad-id", 400, "id")
    assert caught.value.allowed


@given(st.text(max_size=60))
def test_any_text_is_an_id_or_a_bad_id(text):
    try:
        assert check_sum(read_id(text)) == 0
    except Problem as problem:
        assert problem.kind == "bad-id"


def test_a_tag_text_as_a_camera_shows_it():
    # pinned: the layout of the text is this project's own.
    assert payload(essentials()) == (
        "PITSPLICE 7K3M-9QX3 TUBE:1.625X.120 DOM 1020 SLEEVE:1.875X.120 DOM 1020 END:POINTED MITRE:60"
        " LEN:8-1/8 IN DATE:2026-11-25 METHOD:OUTER SLEEVE"
    )
    assert payload(essentials(), demo=True).startswith("PITSPLICE 7K3M-9QX3 DEMO TUBE:")


@given(NUMBERS, st.booleans(), st.tuples(*[TEXTS for _ in KEYS]))
def test_any_texts_make_a_tag_that_reads_back(number, demo, texts):
    said = TagEssentials(make_id(number), *texts)
    line = payload(said, demo)
    assert len(line) <= LONGEST_PAYLOAD
    assert set(line) <= QR_CHARACTERS
    back = read_payload(line)
    assert back["id"] == read_id(line) == said.id
    assert back["demo"] is demo
    for field in KEYS:
        whole, read = plain(getattr(said, field)), getattr(back["essentials"], field)
        tight = whole.replace(" ", "")
        start = read.removesuffix("..").replace(" ", "")
        assert read.endswith("..") or start == tight
        assert tight.startswith(start)


@given(NUMBERS, st.text(min_size=200, max_size=400, alphabet="WM"))
def test_a_long_material_leaves_length_date_and_end_whole(number, long):
    back = read_payload(payload(essentials(id=make_id(number), tube=long, sleeve=long, method=long)))["essentials"]
    assert (back.length, back.date, back.end, back.mitre_deg) == ("8-1/8 IN", "2026-11-25", "POINTED", "60")
    assert back.tube.endswith("..")


@pytest.mark.parametrize(("text", "expected"), [  # hand
    ("8⅛ in", "8-1/8 IN"), ("⅝", "5/8"), ("8-1⁄8 in", "8-1/8 IN"), ("60°", "60"), ('1.625"', "1.625 IN"),
    ("Größe 41,3 mm", "GROSSE 41 3 MM"), ("钢 4130", "4130"), ("LEN: 99", "LEN 99"), ("a\tb\nc", "A B C"), ("", ""),
])  # fmt: skip
def test_free_text_becomes_plain(text, expected):
    assert plain(text) == expected


@pytest.mark.parametrize("text", [
    "hello", "", None, "PITSPLICE", "7K3M-9QX3", "PITSPLICE 7K3M-9QX3 DEMO MORE TUBE:1", "A" * 2001,
    "PITSPLICE 7K3M-9QX3 LEN:8 IN LEN:9 IN", "https://pits.local/7K3M-9QX3",
])  # fmt: skip
def test_what_is_no_tag_is_refused(text):
    with pytest.raises(Problem) as caught:
        read_payload(text)
    assert (caught.value.kind, caught.value.status) == ("bad-tag", 400)
    assert caught.value.next_step


def test_a_tag_with_a_wrong_id_is_refused():
    with pytest.raises(Problem) as caught:
        read_payload(f"{HEAD} 7K3M-9QX4 LEN:8 IN")
    assert caught.value.kind == "bad-id"
    with pytest.raises(Problem):
        payload(essentials(id="7K3M9QX4"))


def test_the_id_is_shown_in_two_groups():
    assert id_text("7K3M9QX3") == "7K3M-9QX3"
