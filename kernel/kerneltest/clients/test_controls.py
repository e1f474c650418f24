"""Controls on the page, moved by the open widget protocol."""

import time

import pytest

SHOW = """
speed, err := control.Slide("drum speed", 20`rpm`, 120`rpm`, 60`rpm`)
show.Check(err)
field, _ := control.Decades("field", 1`mT`, 1`T`, 100`mT`)
mode, _ := control.Choose("gas", "air", "vacuum")
wet, _ := control.Turn("wet", false)
draws := 0
control.Show(func() any {
	draws++
	if mode.Value() == "vacuum" && wet.On() {
		panic("no water in a vacuum")
	}
	return 2 * speed.Value()
}, speed, field, mode, wet)
"""


class Page:
    """What a front end keeps of the widgets that a cell has opened."""

    def __init__(self, kernel, cell):
        self.kernel = kernel
        self.models = {m["content"]["comm_id"]: m for m in cell.broadcasts if m["msg_type"] == "comm_open"}
        shown = cell.of("display_data")
        self.view = shown[0]["data"]
        self.drawn = shown[1]
        self.settings = shown[2]

    def named(self, label):
        for comm, m in self.models.items():
            if m["content"]["data"]["state"].get("description") == label:
                return comm
        raise KeyError(label)

    def state(self, label):
        return self.models[self.named(label)]["content"]["data"]["state"]

    def say(self, comm, data):
        client = self.kernel.client
        m = client.session.msg("comm_msg", {"comm_id": comm, "data": data})
        client.shell_channel.send(m)
        return m["header"]["msg_id"]

    def move(self, label, state):
        sent = self.say(self.named(label), {"method": "update", "state": state, "buffer_paths": []})
        return self.kernel.wait(sent, needs_reply=False)


@pytest.fixture
def page(kernel):
    cell = kernel.run(SHOW)
    assert cell.content["status"] == "ok", cell.content
    return Page(kernel, cell)


def test_what_is_shown(page):
    for m in page.models.values():
        assert m["metadata"]["version"] == "2.1.0"
        assert m["content"]["target_name"] == "jupyter.widget"
        state = m["content"]["data"]["state"]
        assert {"_model_module", "_model_module_version", "_model_name", "_view_module", "_view_module_version", "_view_name"} <= state.keys()
    slider = page.state("drum speed (rpm)")
    assert (slider["_model_name"], slider["min"], slider["max"], slider["value"], slider["step"]) == ("FloatSliderModel", 20, 120, 60, 0.5)
    decades = page.state("field (mT)")
    assert (decades["_model_name"], decades["min"], decades["max"], decades["value"]) == ("FloatLogSliderModel", 0, 3, 100)
    assert page.state("gas")["_options_labels"] == ["air", "vacuum"] and page.state("gas")["index"] == 0
    assert page.state("wet")["value"] is False
    box = page.view["application/vnd.jupyter.widget-view+json"]["model_id"]
    children = page.models[box]["content"]["data"]["state"]["children"]
    assert [page.models[c.removeprefix("IPY_MODEL_")]["content"]["data"]["state"]["description"] for c in children] == [
        "drum speed (rpm)", "field (mT)", "gas", "wet"]
    assert page.view["text/plain"] == "controls: drum speed, field, gas, wet"
    assert page.settings["data"]["text/plain"] == "drum speed: 60 rpm; field: 100 mT; gas: air; wet: off"
    assert page.drawn["data"]["text/plain"] == "120 rpm"


def test_move(page):
    moved = page.move("drum speed (rpm)", {"value": 75.5})
    assert moved.order == ["busy", "comm_msg", "update_display_data", "update_display_data", "idle"]
    assert moved.of("comm_msg")[0]["data"] == {"method": "echo_update", "state": {"value": 75.5}, "buffer_paths": []}
    update = moved.of("update_display_data")[0]
    assert update["transient"]["display_id"] == page.drawn["transient"]["display_id"]
    assert update["data"]["text/plain"] == "151 rpm"
    words = moved.of("update_display_data")[1]
    assert words["transient"]["display_id"] == page.settings["transient"]["display_id"]
    assert words["data"]["text/plain"].startswith("drum speed: 75.5 rpm; ")
    assert page.kernel.run("speed.Value()").result == "75.5 rpm"  # for later cells too


def test_the_same_again_draws_nothing(page):
    page.move("drum speed (rpm)", {"value": 60})
    assert page.kernel.run("draws").result == "1"


def test_what_a_front_end_rounds_is_no_move(page):
    field = page.move("field (mT)", {"value": 100.9})  # its nearest step is 101.2
    assert field.order == ["busy", "comm_msg", "idle"]
    page.move("drum speed (rpm)", {"value": 60.2})
    assert page.kernel.run("draws").result == "1"
    assert page.kernel.run("field.Value()").result == "100 mT"


def test_out_of_bounds(page):
    moved = page.move("drum speed (rpm)", {"value": 500})
    assert moved.of("comm_msg")[0]["data"]["method"] == "update"
    assert moved.of("comm_msg")[0]["data"]["state"] == {"value": 60}
    assert moved.order[-1] == "idle"


def test_failure_and_recovery(page):
    page.move("gas", {"index": 1})
    failed = page.move("wet", {"value": True}).of("update_display_data")[0]
    assert "no water in a vacuum" in failed["data"]["text/plain"]
    well = page.move("wet", {"value": False}).of("update_display_data")[0]
    assert well["data"]["text/plain"] == "120 rpm"
    assert page.kernel.run("mode.Value()").result == '"vacuum"'


def test_reload(page):
    page.move("drum speed (rpm)", {"value": 80})
    client = page.kernel.client
    sent = client.comm_info(target_name="jupyter.widget")
    comms = page.kernel.wait(sent).content["comms"]
    assert set(comms) == set(page.models)
    told = page.kernel.wait(page.say(page.named("drum speed (rpm)"), {"method": "request_state"}), needs_reply=False)
    state = told.of("comm_msg")[0]["data"]["state"]
    assert state["value"] == 80 and state["_model_name"] == "FloatSliderModel" and state["max"] == 120


def test_drawn_after_reload(page):
    """A page that was loaded again does not know which output to draw anew: the controls hold one."""
    page.move("drum speed (rpm)", {"value": 80})
    box = page.view["application/vnd.jupyter.widget-view+json"]["model_id"]
    told = page.kernel.wait(page.say(box, {"method": "request_state"}), needs_reply=False)
    children = told.of("comm_msg")[0]["data"]["state"]["children"]
    assert len(children) == len(page.models[box]["content"]["data"]["state"]["children"]) + 1
    place = children[-1].removeprefix("IPY_MODEL_")
    told = page.kernel.wait(page.say(place, {"method": "request_state"}), needs_reply=False)
    state = told.of("comm_msg")[0]["data"]["state"]
    assert (state["_model_module"], state["_model_module_version"], state["_model_name"]) == ("@jupyter-widgets/output", "1.0.0", "OutputModel")
    assert state["outputs"][0]["data"]["text/plain"] == "160 rpm"
    assert state["outputs"][1]["data"]["text/plain"].startswith("drum speed: 80 rpm; ")
    moved = page.move("drum speed (rpm)", {"value": 90})
    update = [m for m in moved.of("comm_msg") if m["comm_id"] == place][0]["data"]
    assert update["method"] == "update" and update["state"]["outputs"][0]["data"]["text/plain"] == "180 rpm"


def test_run_again_closes_the_old(kernel):
    m = kernel.client.session.msg("execute_request", {"code": SHOW, "silent": False, "store_history": True, "user_expressions": {}, "allow_stdin": False})
    m["metadata"]["cellId"] = "c1"
    kernel.client.shell_channel.send(m)
    first = Page(kernel, kernel.wait(m["header"]["msg_id"]))
    m = kernel.client.session.msg("execute_request", {"code": SHOW, "silent": False, "store_history": True, "user_expressions": {}, "allow_stdin": False})
    m["metadata"]["cellId"] = "c1"
    kernel.client.shell_channel.send(m)
    cell = kernel.wait(m["header"]["msg_id"])
    assert {c["comm_id"] for c in cell.of("comm_close")} == set(first.models)
    sent = kernel.client.comm_info(target_name="jupyter.widget")
    assert set(kernel.wait(sent).content["comms"]) == set(Page(kernel, cell).models)


def test_while_a_cell_runs(page):
    busy = page.kernel.send('import "time"\ntime.Sleep(3 * time.Second)')
    time.sleep(0.3)
    start = time.monotonic()
    moved = page.move("drum speed (rpm)", {"value": 90})
    assert time.monotonic() - start < 1.5
    assert moved.of("update_display_data")[0]["data"]["text/plain"] == "180 rpm"
    assert page.kernel.wait(busy).content["status"] == "ok"


def test_interrupt_a_drawing(kernel):
    page = Page(kernel, kernel.run(SHOW.replace("draws++", "draws++\n\tfor draws > 1 {\n\t}")))
    sent = page.say(page.named("drum speed (rpm)"), {"method": "update", "state": {"value": 90}, "buffer_paths": []})
    time.sleep(0.5)
    kernel.manager.interrupt_kernel()
    moved = kernel.wait(sent, needs_reply=False)
    assert "nothing to show" in moved.of("update_display_data")[0]["data"]["text/plain"]
    assert kernel.run("draws").result == "2"


def test_many_moves_at_once(page):
    comm = page.named("drum speed (rpm)")
    sent = [page.say(comm, {"method": "update", "state": {"value": 20 + i / 2}, "buffer_paths": []}) for i in range(200)]
    done = [page.kernel.wait(s, needs_reply=False) for s in sent]
    last = [u for d in done for u in d.of("update_display_data")][-2]
    assert last["data"]["text/plain"] == "239 rpm"
    assert all(d.order[-1] == "idle" for d in done)


def test_fast_enough_to_follow_the_hand(page):
    taken = []
    for i in range(50):
        start = time.monotonic()
        page.move("drum speed (rpm)", {"value": 30 + i})
        taken.append(time.monotonic() - start)
    print("round trip of a move:", sorted(taken)[25])
