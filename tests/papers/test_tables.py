"""Tables out and in, held against the words of RFC 4180 and of OWASP's page on CSV injection."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import InputError
from stillroom.papers.tables import MOST_ROWS, csv_text, read_csv_text, unguarded


def test_it_works() -> None:
    """RFC 4180, 2: CRLF after each record (1), a header (3), commas, quotes and breaks inside quotes (6), "" (7)."""
    text = csv_text(["aaa", "bbb"], [["zz,z", 'b"bb'], ["a\nb", 3.5], [None, -2]])
    assert text == '\ufeffaaa,bbb\r\n"zz,z","b""bb"\r\n"a\nb",3.5\r\n,-2\r\n'


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", '=cmd|"/C calc"!A0'])
def test_a_formula_becomes_text(cell: str) -> None:
    """OWASP, CSV Injection: these beginnings, and a single quote before them, inside double quotes where needed."""
    written = next(csv.reader(io.StringIO(csv_text(["x"], [[cell]]).split("\r\n", 1)[1], newline="")))
    assert written == ["'" + cell]
    assert unguarded(written[0]) == cell


@given(st.lists(st.text(st.characters(exclude_categories=("C",))), min_size=2, max_size=2))
def test_what_is_written_reads_in_again(cells: list[str]) -> None:
    """But for blanks around a cell, which nobody sees, and blank rows."""
    _, lines = read_csv_text(csv_text(["a", "b"], [cells]).encode())
    wanted = [cell.strip() for cell in cells]
    if any(wanted) and not any(cell.startswith(("'", *"=+-@")) for cell in wanted):
        assert [lines[0].cells["a"], lines[0].cells["b"]] == wanted


@given(st.text(st.characters(exclude_categories=("C",)), min_size=1))
def test_the_guard_comes_off_again(cell: str) -> None:
    written = next(csv.reader(io.StringIO(csv_text(["x"], [[cell]]).split("\r\n", 1)[1], newline="")))
    assert unguarded(written[0]) == cell


@pytest.mark.parametrize(
    "data",
    [
        b"\xef\xbb\xbfKind;Count\r\nquart;7\r\n",
        b"kind,count\nquart,7",
        b"kind\tcount\r\nquart\t7\r\n\r\n",
        b'"KIND","count"\r\n"quart","7"\r\n,,\r\n',
    ],
)
def test_marks_semicolons_and_tabs_are_understood(data: bytes) -> None:
    columns, lines = read_csv_text(data)
    assert columns == ("kind", "count")
    assert [dict(line.cells) for line in lines] == [{"kind": "quart", "count": "7"}]
    assert lines[0].number == 2


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", "is empty"),
        ("käse,menge\n".encode("latin-1"), "no text in UTF-8"),
        ("kind,count\nquart,7\n".encode("utf-16"), "no text in UTF-8"),
        (b"kind,kind\n", "names the column “kind” twice"),
        (b"kind,count\nquart,7,8\n", "Row 2 has more cells"),
        (b'kind,count\n"quart,7\n', "can't be read as a table"),
        (b"kind\n" + b"quart\n" * (MOST_ROWS + 1), "read in 1000 at a time"),
    ],
)
def test_what_is_no_table_is_told(data: bytes, sentence: str) -> None:
    with pytest.raises(InputError, match=sentence):
        read_csv_text(data)
