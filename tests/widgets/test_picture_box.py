"""The box of pictures sends what changed, and a page that is new is given all of it."""

from hypothesis import given
from hypothesis import strategies as st

from statorbook.widgets.picture_box import PictureBox, changes

LINES = st.lists(st.sampled_from(["<svg>", "<path/>", "<g></g>", "", "</svg>"]), max_size=8)


def after(lines, found):
    """What a page makes of its lines, the changes taken one after the other."""
    lines = list(lines)
    for start, gone, put in found:
        lines[start : start + gone] = put
    return lines


@given(old=LINES, new=LINES)
def test_the_changes_make_the_new_lines_of_the_old_ones(old, new):
    assert after(old, changes(old, new)) == new


def test_only_lines_that_changed_are_sent_each_by_itself():
    old, new = ["<svg 1>", "<a/>", "<b/>", "<c/>", "</svg>"], ["<svg 2>", "<a2/>", "<b/>", "<c/>", "<d/>", "</svg>"]
    assert changes(old, new) == [[4, 0, ["<d/>"]], [1, 1, ["<a2/>"]], [0, 1, ["<svg 2>"]]]
    assert changes(old, old) == []


def test_a_page_that_is_new_is_given_every_line_and_one_that_follows_the_changes():
    box = PictureBox()
    box.value = "<svg>\n<a/>\n</svg>"
    box.value = "<svg>\n<b/>\n</svg>"
    assert box.get_state()["sent"] == {"lines": ["<svg>", "<b/>", "</svg>"]}
    assert box.get_state(key="sent")["sent"]["changes"] == [[1, 1, ["<b/>"]]]


def test_the_same_change_twice_is_sent_twice():
    box, sent = PictureBox(), []
    box.observe(lambda change: sent.append(change.new["changes"]), "sent")
    for value in ("<a/>", "<a/>\n<a/>", "<a/>\n<a/>\n<a/>"):
        box.value = value
    assert [len(one) for one in sent] == [1, 1, 1]
