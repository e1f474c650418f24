package server

import (
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"sync"

	"cobber/kernel/wire"
	"cobber/stdlib/show"
)

// panel is a group of controls on the page, with the place that is drawn anew
// as they move.
type panel struct {
	server *Server
	shown  *show.Panel
	cell   string // of the cell that showed it, or empty
	place  string // display id of what is drawn
	words  string // display id of the settings in words
	models []*model
	again  *model // the place for the drawing on a page that has been loaded again

	mu       sync.Mutex
	waiting  []*wire.Message // moves that nothing has been drawn for
	drawing  bool
	drawn    *displayContent // what is shown
	reloaded bool            // a page shows it among the controls
}

// models are the widgets that front ends know, by the ids of their channels.
type models struct {
	mu     sync.Mutex
	byID   map[string]*model
	panels []*panel
}

func (m *models) find(id string) *model {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.byID[id]
}

func (m *models) drop(id string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.byID, id)
}

func (m *models) ids() []string {
	m.mu.Lock()
	defer m.mu.Unlock()
	var list []string
	for id := range m.byID {
		list = append(list, id)
	}
	slices.Sort(list)
	return list
}

func (m *models) add(p *panel) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.byID == nil {
		m.byID = map[string]*model{}
	}
	for _, one := range p.models {
		m.byID[one.id] = one
	}
	m.panels = append(m.panels, p)
}

// take gives up the panels of a cell and lists the channels to be closed: a cell
// that runs again shows new ones.
func (m *models) take(cell string) []string {
	m.mu.Lock()
	defer m.mu.Unlock()
	var ids []string
	m.panels = slices.DeleteFunc(m.panels, func(p *panel) bool {
		if cell == "" || p.cell != cell {
			return false
		}
		for _, one := range p.models {
			if m.byID[one.id] != nil {
				delete(m.byID, one.id)
				ids = append(ids, one.id)
			}
		}
		return true
	})
	return ids
}

// newID is a name that no other kernel gives.
func newID() string {
	b := make([]byte, 16)
	rand.Read(b)
	return hex.EncodeToString(b)
}

// panel shows controls and what was drawn from their start.
func (o *output) panel(event show.Event) {
	cell, _ := o.parent.Metadata["cellId"].(string)
	p := &panel{server: o.server, shown: event.Panel, cell: cell, place: newID(), words: newID()}
	p.models = widgets(p)
	o.server.models.add(p)
	for _, m := range p.models {
		message := o.server.sender.New("comm_open", o.parent, commOpen{m.id, widgetTarget,
			map[string]any{"state": m.state(), "buffer_paths": []any{}}})
		message.Metadata = map[string]any{"version": widgetProtocol}
		o.server.send("comm_open", message)
	}
	box := p.models[len(p.models)-1]
	o.server.publish("display_data", o.parent, displayContent{map[string]any{
		"text/plain": p.names(),
		widgetView:   map[string]any{"version_major": 2, "version_minor": 0, "model_id": box.id},
	}, map[string]any{}, transient{}})
	for _, value := range event.Values {
		content := displayOf(value, p.place)
		p.keep(content)
		o.server.publish("display_data", o.parent, content)
	}
	o.server.publish("display_data", o.parent, p.settings())
}

// names stands for the controls where there are none.
func (p *panel) names() string {
	var names []string
	for _, k := range p.shown.Knobs {
		names = append(names, k.Name)
	}
	return "controls: " + strings.Join(names, ", ")
}

// settings are the present settings in words, below what is drawn from them: a
// notebook that was saved shows the two together.
func (p *panel) settings() displayContent {
	text := strings.ReplaceAll(p.shown.String(), "\n", "; ")
	return displayContent{map[string]any{"text/plain": text}, map[string]any{}, transient{p.words}}
}

// keep notes what is shown, and tells whether a page that has been loaded again
// is to be told of it.
func (p *panel) keep(content displayContent) (reloaded bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.drawn = &content
	return p.reloaded
}

// outputs is what is shown, as a page that has been loaded again shows it.
func (p *panel) outputs() []any {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.reloaded = true
	const note = "Above: the present settings. Below: as the notebook was saved.\nRun the cell again to have one."
	contents := []displayContent{p.settings(), {map[string]any{"text/plain": note}, map[string]any{}, transient{}}}
	if p.drawn != nil {
		contents = append([]displayContent{*p.drawn}, contents...)
	}
	var list []any
	for _, c := range contents {
		list = append(list, map[string]any{"output_type": "display_data", "data": c.Data, "metadata": c.Metadata})
	}
	return list
}

// closePanels takes the controls of an earlier run of a cell away.
func (s *Server) closePanels(m *wire.Message) {
	cell, _ := m.Metadata["cellId"].(string)
	for _, id := range s.models.take(cell) {
		s.publish("comm_close", m, commClose{id, map[string]any{}})
	}
}

// turn takes a move of a control over, and tells the front ends: the same if it
// was taken as it is, else the setting that stays.
func (s *Server) turn(m *wire.Message, model *model, state map[string]any) (moved bool) {
	x, ok := model.setting(state)
	if !ok {
		return false
	}
	before := model.knob.Get()
	if model.stays(before, x) {
		s.publish("comm_msg", m, commMsg{model.id, map[string]any{"method": "echo_update", "state": state, "buffer_paths": []any{}}})
		return false
	}
	err := model.knob.Set(x)
	if now := model.knob.Get(); err == nil && now == x {
		s.publish("comm_msg", m, commMsg{model.id, map[string]any{"method": "echo_update", "state": state, "buffer_paths": []any{}}})
	} else {
		s.publish("comm_msg", m, commMsg{model.id, map[string]any{"method": "update", "state": model.own(), "buffer_paths": []any{}}})
	}
	return model.knob.Get() != before
}

// redraw draws the panel anew for a move. Moves that come while it draws wait,
// and one drawing does for all of them.
func (p *panel) redraw(m *wire.Message) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.waiting = append(p.waiting, m)
	if !p.drawing {
		p.drawing = true
		go p.drawAll()
	}
}

func (p *panel) drawAll() {
	for {
		p.mu.Lock()
		moves := p.waiting
		p.waiting = nil
		p.drawing = len(moves) > 0
		p.mu.Unlock()
		if len(moves) == 0 {
			return
		}
		last := moves[len(moves)-1]
		content := p.draw()
		p.server.publish("update_display_data", last, content)
		p.server.publish("update_display_data", last, p.settings())
		if p.keep(content) {
			p.server.publish("comm_msg", last, commMsg{p.again.id, map[string]any{
				"method": "update", "state": map[string]any{"outputs": p.outputs()}, "buffer_paths": []any{}}})
		}
		for _, m := range moves {
			p.server.endAside(m)
		}
	}
}

// draw is what the present settings give, or why they give nothing.
func (p *panel) draw() (content displayContent) {
	defer func() {
		if fault := recover(); fault != nil {
			p.server.logf("fault while drawing: %v", fault)
			content = p.trouble(fmt.Sprint(fault))
		}
	}()
	p.server.drawing.Lock()
	defer p.server.drawing.Unlock()
	ctx, done := p.server.moving.begin(p.server.stopped)
	defer done()
	err := p.server.session.Aside(ctx, func() { content = displayOf(p.shown.Draw(), p.place) })
	if err != nil {
		return p.trouble(explain(ctx, err).Value)
	}
	return content
}

func (p *panel) trouble(text string) displayContent {
	text = "With these settings there is nothing to show.\n" + p.shown.String() + "\n" + text
	return displayContent{map[string]any{"text/plain": text}, map[string]any{}, transient{p.place}}
}
