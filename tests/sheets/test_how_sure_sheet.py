"""The sheet of how sure an answer is: answers, cautions and every number, within the margins, on both papers."""

import pytest

from samples.printed import pages_of, squeezed, words_outside
from statorbook.assembly.narrowing import answers_words, narrowing_words
from statorbook.assembly.stands_on import how_sure
from statorbook.cautions import exposures_of, text_of
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job.parts.registry import ReaderPart
from statorbook.quantities import reader_units
from statorbook.sheets.how_sure_sheet import write_how_sure_sheet
from statorbook.sheets.paper import printable


@pytest.mark.parametrize("paper, system, name", [("A4", "metric", "spring_pipe"), ("Letter", "US", "ridge_rotor")])
def test_answers_cautions_and_every_number_are_printed(tmp_path, paper, system, name):
    job = example.write(tmp_path, name)
    job.save_part("reader", ReaderPart(units=system))
    path = write_how_sure_sheet(job, paper)
    outside, count = words_outside(path)
    assert outside == [] and count > 300
    pages = [squeezed(page) for page in pages_of(path)]
    with reader_units(system):
        sure = how_sure(job)
        numbers = [each.said for each in (*sure.inputs, *sure.given)]
        way = narrowing_words(sure, "bank_watts")
        answers = answers_words(sure)
    assert squeezed(printable(answers)) in pages[0] and squeezed(printable(text_of(way))) in "".join(pages)
    assert exposures_of([way]) and all(squeezed(each.sentence) in pages[0] for each in exposures_of([way]))
    assert pages[0].index("CAUTION") < pages[0].index("Measurefirst")
    assert all(squeezed(printable(said)) in "".join(pages[1:]) for said in numbers)


def test_an_unknown_paper_is_refused(tmp_path):
    with pytest.raises(BadInput, match="A4 or Letter"):
        write_how_sure_sheet(example.write(tmp_path, "spring_pipe"), "A5")
