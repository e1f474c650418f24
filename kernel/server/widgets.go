package server

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/show"
)

// The open widget protocol, as far as controls need it.
const (
	widgetTarget   = "jupyter.widget"
	widgetProtocol = "2.1.0"
	widgetView     = "application/vnd.jupyter.widget-view+json"

	baseModule     = "@jupyter-widgets/base"
	controlsModule = "@jupyter-widgets/controls"
	outputModule   = "@jupyter-widgets/output"
	moduleVersion  = "2.0.0"
	outputVersion  = "1.0.0"
	modelReference = "IPY_MODEL_"
)

// model is one widget: what a front end needs to make it, and the knob it turns
// if it is one.
type model struct {
	id    string
	panel *panel
	knob  *show.Knob
	key   string // under which a front end tells the setting
	fixed map[string]any
	again map[string]any // what is other for a page that has been loaded again
}

// state is all that a front end must know of the widget.
func (m *model) state() map[string]any {
	state := maps.Clone(m.fixed)
	maps.Copy(state, m.own())
	return state
}

// stateAgain is the same for a page that has been loaded again.
func (m *model) stateAgain() map[string]any {
	state := m.state()
	maps.Copy(state, m.again)
	if m.panel.again == m {
		state["outputs"] = m.panel.outputs()
	}
	return state
}

// own is the setting.
func (m *model) own() map[string]any {
	if m.knob == nil {
		return nil
	}
	x := m.knob.Get()
	switch m.knob.Form {
	case show.FormChoice:
		return map[string]any{m.key: int(x)}
	case show.FormSwitch:
		return map[string]any{m.key: x != 0}
	}
	return map[string]any{m.key: x}
}

// setting reads a move.
func (m *model) setting(state map[string]any) (float64, bool) {
	switch x := state[m.key].(type) {
	case float64:
		return x, true
	case bool:
		if x {
			return 1, true
		}
		return 0, true
	}
	return 0, false
}

// stays tells a move that is none: a front end puts a slider on its nearest step
// as it shows it, and says so.
func (m *model) stays(before, x float64) bool {
	if m.knob.Form == show.FormDecades {
		before, x = math.Log10(before), math.Log10(x)
	}
	slides := m.knob.Form == show.FormSlide || m.knob.Form == show.FormDecades
	return slides && math.Abs(x-before) < m.knob.Step/2*(1+1e-9)
}

// widgets makes the models of a panel, in the order in which a front end must
// learn of them; the last holds the others.
func widgets(p *panel) []*model {
	style := newModel(p, baseModule, "StyleView", controlsModule, "DescriptionStyleModel", map[string]any{"description_width": "initial"})
	layout := newModel(p, baseModule, "LayoutView", baseModule, "LayoutModel", map[string]any{"width": "32em", "max_width": "100%"})
	list := []*model{style, layout}
	var children []string
	for i := range p.shown.Knobs {
		k := &p.shown.Knobs[i]
		m := knobModel(p, k)
		m.fixed["style"], m.fixed["layout"] = modelReference+style.id, modelReference+layout.id
		list = append(list, m)
		children = append(children, modelReference+m.id)
	}
	again := outputModel(p)
	box := newModel(p, controlsModule, "VBoxView", controlsModule, "VBoxModel", map[string]any{"children": children, "box_style": ""})
	box.again = map[string]any{"children": append(slices.Clone(children), modelReference+again.id)}
	return append(list, again, box)
}

// outputModel is a place for the drawing among the controls. A page that has
// been loaded again shows it, for it does not know any more which of its outputs
// is to be drawn anew.
func outputModel(p *panel) *model {
	m := newModel(p, outputModule, "OutputView", outputModule, "OutputModel", map[string]any{"msg_id": "", "outputs": []any{}})
	m.fixed["_model_module_version"], m.fixed["_view_module_version"] = outputVersion, outputVersion
	p.again = m
	return m
}

func newModel(p *panel, viewModule, view, module, name string, fixed map[string]any) *model {
	fixed["_model_module"], fixed["_model_module_version"], fixed["_model_name"] = module, moduleVersion, name
	fixed["_view_module"], fixed["_view_module_version"], fixed["_view_name"] = viewModule, moduleVersion, view
	return &model{id: newID(), panel: p, fixed: fixed}
}

// knobModel is the widget that turns a knob.
func knobModel(p *panel, k *show.Knob) *model {
	name := ""
	state := map[string]any{"description": label(k), "disabled": false}
	key := "value"
	switch k.Form {
	case show.FormSlide:
		name = "FloatSlider"
		state["min"], state["max"], state["step"] = k.Low, k.High, k.Step
		state["readout_format"] = "." + fmt.Sprint(decimals(k.Step)) + "f"
	case show.FormDecades:
		name = "FloatLogSlider"
		state["base"], state["min"], state["max"], state["step"] = 10.0, math.Log10(k.Low), math.Log10(k.High), k.Step
		state["readout_format"] = ".3g"
	case show.FormChoice:
		name, key = "Dropdown", "index"
		state["_options_labels"] = k.Options
	case show.FormSwitch:
		name = "Checkbox"
		state["indent"] = false
	}
	if k.Form == show.FormSlide || k.Form == show.FormDecades {
		state["readout"], state["continuous_update"], state["orientation"] = true, true, "horizontal"
	}
	m := newModel(p, controlsModule, name+"View", controlsModule, name+"Model", state)
	m.knob, m.key = k, key
	return m
}

// label is the name of a knob with its unit, as axes have it.
func label(k *show.Knob) string {
	if k.Unit == "" || k.Unit == "1" {
		return k.Name
	}
	return k.Name + " (" + strings.TrimSpace(k.Unit) + ")"
}

// decimals is how many digits after the point a step needs.
func decimals(step float64) int {
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}
