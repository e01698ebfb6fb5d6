import json
import os

from jupyter_client.manager import start_new_kernel

from limekit.course import ahead

ASKED = """
import json, sys
print(json.dumps([sorted(sys.modules), [name for name in globals() if "limekit" in name or name in ("fetch", "ahead")]]))
"""


def test_a_kernel_has_what_lessons_want_before_its_first_cell_and_keeps_no_name_of_it():
    manager, client = start_new_kernel(env=os.environ | ahead.environment({}))
    said = []
    try:
        client.execute_interactive(ASKED, output_hook=lambda message: said.append(message["content"].get("text", "")))
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
    modules, names = json.loads("".join(said))
    assert {"limekit.course.explorer", "limekit.plan.plan"} <= set(modules)
    assert names == []


def test_loops_that_are_not_compiled_are_not_waited_for(monkeypatch):
    ran = []
    monkeypatch.setattr(ahead, "run_loops", lambda: ran.append("loops"))
    monkeypatch.setattr(ahead, "available", lambda: True)
    monkeypatch.setattr(ahead, "kept", lambda: None)
    ahead.fetch()
    assert ran == []
    monkeypatch.setattr(ahead, "kept", lambda: "a folder")
    ahead.fetch()
    assert ran == ["loops"]


def test_what_a_person_has_set_stands():
    own = {"JUPYTER_CONFIG_PATH": "mine", "PYTHONSTARTUP": "my_startup.py"}
    found = ahead.environment(own)
    assert found["JUPYTER_CONFIG_PATH"].split(os.pathsep)[1:] == ["mine"]
    assert found["PYTHONSTARTUP"] == "my_startup.py"
