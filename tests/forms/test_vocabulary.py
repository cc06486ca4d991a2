"""Every word that a sock can be asked for with can be chosen in the form of a pair and in that of a design."""

from __future__ import annotations

import pytest
from flask import Flask

from companion.forms.design_form import DesignForm
from companion.forms.plan_form import PlanForm, form_values
from companion.planning import read_request
from companion.planning.plan.design import read_design, request_for
from tests.planning.asking import asked
from tests.planning.vocabulary import VOCABULARY


@pytest.mark.parametrize("word", VOCABULARY)
def test_a_word_is_asked_for_in_both_forms(app: Flask, word: str) -> None:
    request = asked(**VOCABULARY[word])
    with app.test_request_context():
        values = form_values(request, "cm")
        pair, design = PlanForm(data=values), DesignForm(data=values)
        assert read_request(pair.request_data()) == (request, [])
        kept, faults = read_design(design.design_data())
    assert kept, faults
    assert request_for(kept, request.foot, request.gauge) == request
