package notebook

import (
	"strings"
	"sync"

	"cobber/kernel/display"
	"cobber/stdlib/show"
)

// A page collects the outputs of all cells of a run as a front end does. One
// lock guards it: outputs may come from any goroutine, and an update may reach
// back to an earlier cell.
type page struct {
	mu      sync.Mutex
	regions []region
	done    bool
}

// A region is the place below one cell.
type region struct {
	page    *page
	outputs []shown
	clear   bool            // clear when the next output comes
	ids     map[string]bool // under which the cell has shown something
}

// A shown output has the name under which it can be updated.
type shown struct {
	Output
	id   string
	text []byte // of a stream, while it grows
}

func newPage(cells int) *page {
	p := &page{regions: make([]region, cells)}
	for i := range p.regions {
		p.regions[i].page = p
	}
	return p
}

func (p *page) region(i int) *region { return &p.regions[i] }

// finish writes the outputs into the notebook. What a goroutine of a cell
// prints later has no place any more.
func (p *page) finish(nb *Notebook) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.done = true
	for i := range p.regions {
		for _, o := range p.regions[i].outputs {
			o.Text = strings.ToValidUTF8(string(o.text), "\ufffd")
			nb.Cells[i].Outputs = append(nb.Cells[i].Outputs, o.Output)
		}
	}
}

// Stream adds printed text, to the output before it if that is of the same
// stream.
func (r *region) Stream(name, text string) {
	if text == "" {
		return
	}
	r.page.mu.Lock()
	defer r.page.mu.Unlock()
	if r.page.done {
		return
	}
	r.makeRoom()
	last := len(r.outputs) - 1
	if last < 0 || r.outputs[last].Kind != Stream || r.outputs[last].Name != name {
		r.outputs = append(r.outputs, shown{Output: Output{Kind: Stream, Name: name}})
		last++
	}
	r.outputs[last].text = append(r.outputs[last].text, text...)
}

// Event carries out what a cell asks of the page.
func (r *region) Event(event show.Event) {
	switch event.Kind {
	case show.KindDisplay, show.KindUpdate:
		for _, value := range event.Values {
			r.display(event, value)
		}
	case show.KindPanel: // here nobody can move it
		for _, value := range append([]any{event.Panel}, event.Values...) {
			r.display(show.Event{Kind: show.KindDisplay}, value)
		}
	case show.KindClear:
		r.page.mu.Lock()
		defer r.page.mu.Unlock()
		r.clear = event.Wait
		if !event.Wait {
			r.outputs = nil
		}
	}
}

// display shows a value in a place of its own, or anew in the place that this
// cell has shown something in under the same id. Either way every other place
// of that id shows the new value too, as in front ends.
func (r *region) display(event show.Event, value any) {
	data, metadata := display.Bundle(value)
	if data == nil {
		data, metadata = map[string]any{"text/plain": display.Text(value)}, map[string]any{}
	}
	known := r.named(event.ID) && event.Kind == show.KindUpdate
	r.page.update(event.ID, data, metadata)
	if !known {
		r.add(Output{Kind: Display, Data: data, Metadata: metadata}, event.ID)
	}
}

// named reports whether the cell has shown something under id before, and
// notes that it has now.
func (r *region) named(id string) bool {
	r.page.mu.Lock()
	defer r.page.mu.Unlock()
	before := r.ids[id]
	if r.ids == nil {
		r.ids = map[string]bool{}
	}
	r.ids[id] = true
	return before
}

func (r *region) add(o Output, id string) {
	r.page.mu.Lock()
	defer r.page.mu.Unlock()
	if r.page.done {
		return
	}
	r.makeRoom()
	r.outputs = append(r.outputs, shown{Output: o, id: id})
}

// makeRoom clears the place if that was to wait for an output.
func (r *region) makeRoom() {
	if r.clear {
		r.outputs, r.clear = nil, false
	}
}

// update replaces every output shown under id, whichever cell showed it.
func (p *page) update(id string, data, metadata map[string]any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for i := range p.regions {
		for j := range p.regions[i].outputs {
			if o := &p.regions[i].outputs[j]; id != "" && o.id == id && !p.done {
				o.Data, o.Metadata = data, metadata
			}
		}
	}
}
