"""The fingerprint against SHA-256 values made by GNU coreutils' sha256sum of the canonical text typed by hand."""

import pytest

from cutmarks.fingerprint import canonical_json, fingerprint_of


def test_known_digests() -> None:
    # printf '{}' | sha256sum; printf '"abc"' | sha256sum; printf '{"a":[1,0.5],"b":"\u00bd"}' | sha256sum
    assert fingerprint_of({}) == "44136fa3"
    assert fingerprint_of("abc") == "6cc43f85"
    assert fingerprint_of({"b": "½", "a": [1.0, 0.5]}) == "c370b45a"


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ({"a": 1, "b": 2}, {"b": 2, "a": 1}),  # the order of keys
        ([80, 0], [80.0, -0.0]),  # a whole number is one number, and so is nought
        ((1, "x"), [1, "x"]),  # a tuple is a list
    ],
)
def test_one_value_has_one_text(one: object, other: object) -> None:
    assert canonical_json(one) == canonical_json(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [({"a": 1}, {"a": 2}), ({"a": 1}, {"a": "1"}), ([1, [2]], [[1], 2]), (True, 1), (None, 0), ("½", "1/2")],
)
def test_two_values_have_two_texts(one: object, other: object) -> None:
    assert canonical_json(one) != canonical_json(other)


def test_what_is_no_json_value_is_refused() -> None:
    with pytest.raises(ValueError, match="nan is not a finite number"):
        fingerprint_of({"a": float("nan")})
    with pytest.raises(TypeError, match="the key 1 is not text"):
        fingerprint_of({1: "a"})
    with pytest.raises(TypeError, match="set is no JSON value"):
        fingerprint_of({"a": {1, 2}})
