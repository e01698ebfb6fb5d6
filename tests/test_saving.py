from limekit.course.saving import IMAGE, PLOTLY, WIDGET, leave_out_widgets


def saved(data, kind="notebook"):
    model = {"type": kind, "content": {"cells": [{"source": "x", "outputs": [{"data": data}]}, {"source": "words"}]}}
    leave_out_widgets(model=model, path="a.ipynb", contents_manager=None)
    return model["content"]["cells"][0]["outputs"][0]["data"]


def test_the_picture_and_the_sentence_stay_and_the_widget_goes():
    assert saved({PLOTLY: {}, WIDGET: {}, IMAGE: "..", "text/plain": "It burns."}) == {
        PLOTLY: {},
        "text/plain": "It burns.",
    }


def test_what_has_no_plain_picture_is_left_alone():
    assert saved({WIDGET: {}, "text/plain": "a slider"}) == {WIDGET: {}, "text/plain": "a slider"}
    assert saved({IMAGE: "a photograph"}) == {IMAGE: "a photograph"}


def test_other_files_are_left_alone():
    model = {"type": "file", "content": "text"}
    leave_out_widgets(model=model)
    assert model == {"type": "file", "content": "text"}
