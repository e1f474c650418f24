package session

import (
	"context"
	"errors"
	"fmt"
	"go/types"
	"sort"
	"sync"

	"cobber/kernel/diag"
	"cobber/kernel/session/build"
	"cobber/kernel/session/check"
	"cobber/kernel/session/output"
	"cobber/kernel/session/parse"
	"cobber/kernel/session/rewrite"
	"cobber/kernel/session/run"
	"cobber/kernel/session/stale"
	"cobber/kernel/source"
	"cobber/stdlib/bound"
	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

// Session runs the cells of one notebook, one at a time.
type Session struct {
	running sync.Mutex // held while a cell runs
	capture *output.Capture

	mu     sync.Mutex // guards state, stops, set and inputs
	state  *check.State
	set    map[string]string
	inputs []Input
	stops  *run.Run // of the cell that runs

	builder *build.Builder
	machine *run.Machine
	pinned  map[types.Object]bool // what generic functions mention
	trail   *stale.Trail
}

// Output takes what a cell prints and shows, from any goroutine, and from those that outlive it.
type Output interface {
	Stream(name, text string) // name is "stdout" or "stderr"
	Event(show.Event)
}

// Outcome is how a cell ended.
type Outcome struct {
	Values []any    // of the last expression; none when there is nothing to show
	Types  []string // of the values, as Go writes them
	Err    error    // a diag.List if the cell did not check, else a *Failure
	Bound  []string // names the cell bound, sorted
}

// New starts a session. It captures the output of the process until Close, and
// draws uncertain inputs as a new process does.
func New() *Session {
	quantity.Restart()
	state := check.NewState(source.NewSet())
	builder := build.New(state)
	return &Session{
		state: state, builder: builder, machine: run.New(builder.Program, builder.FromSource),
		capture: output.Start(), pinned: map[types.Object]bool{}, trail: stale.NewTrail(),
	}
}

// Close gives the output of the process back.
func (s *Session) Close() { s.capture.Close() }

// Interrupt stops the cell that runs, if one does. Everything bound before keeps working.
func (s *Session) Interrupt() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.stops != nil {
		s.stops.Stop()
	}
}

// Run runs a cell to its end, to its failure, or until ctx is done.
func (s *Session) Run(ctx context.Context, cell source.Cell, out Output) Outcome {
	s.running.Lock()
	defer s.running.Unlock()
	return guarded(func() Outcome { return s.run(ctx, cell, out) })
}

func (s *Session) run(ctx context.Context, cell source.Cell, out Output) Outcome {
	told := &told{cell: cell.Name, set: s.set}
	program, err := s.check(cell, told)
	if err != nil {
		return Outcome{Err: err}
	}
	pkg := s.builder.Cell(program)
	for v, earlier := range program.Reuse {
		if from, to := s.builder.Global(v), s.builder.Global(earlier); from != nil && to != nil {
			s.machine.Share(from, to)
		}
	}
	if err := s.machine.Compile(pkg); err != nil {
		return Outcome{Err: s.refusal(cell, err)}
	}
	for later, earlier := range program.Replaces {
		if from, to := s.builder.Program.FuncValue(earlier), s.builder.Program.FuncValue(later); from != nil && to != nil {
			s.machine.Redefine(from, to)
		}
	}
	return s.execute(ctx, program, told, out)
}

// check is the part of Run that changes nothing. What copies of functions add to a cell must not
// keep it from running.
func (s *Session) check(cell source.Cell, told *told) (*check.Program, error) {
	program, err := s.checkOnce(cell, rewrite.Options{Prepare: told.prepare(s.now())}, told)
	if err != nil && told.shown {
		program, err = s.checkOnce(cell, rewrite.Options{}, told)
	}
	return program, err
}

func (s *Session) checkOnce(cell source.Cell, options rewrite.Options, told *told) (*check.Program, error) {
	state := s.now()
	parsed, err := parse.Parse(state.Set, cell)
	if err != nil {
		state.Set.Remove(parsed.File)
		return nil, err
	}
	options.Dimension, options.Unit, options.Finish = s.dimension, s.unit, told.finish
	program, err := rewrite.Cell(state, parsed, options)
	if err != nil {
		state.Set.Remove(parsed.File)
		return nil, err
	}
	return program, nil
}

// execute runs a built cell and commits what it bound.
func (s *Session) execute(ctx context.Context, program *check.Program, told *told, out Output) Outcome {
	r := run.NewRun()
	r.Hooks = told.hooks()
	s.begin(r)
	defer s.end()
	stop := context.AfterFunc(ctx, r.Stop)
	defer stop()
	printed := s.capture.Cell(out.Stream)
	r.Stderr = func(text string) { printed.Write("stderr", text) }
	r.Own = printed.Own
	r.Stdin = new(terminal)
	r.Report = func(f *run.Failure) {
		printed.Write("stderr", "a goroutine of "+program.Cell.Source.Name+" failed: "+s.failure(program, f, nil).Error()+"\n")
	}
	silence := show.Listen(func(e show.Event) {
		s.capture.Drain() // what was printed before stands before
		out.Event(e)
		if ctx.Err() != nil { // the wait for an answer ended with the cell: it must not go on
			r.Stop()
		}
	})
	detach := bound.Attach(names{s})
	err := s.call(r, program)
	detach()
	told.show()
	s.keepInputs(told.inputs)
	silence()
	printed.End()

	outcome, earlier := Outcome{}, s.state
	upTo := program.Statements + 1 // of a pasted program, which has no statements of its own
	if program.Progress != nil && !program.Cell.Program {
		// Where it stopped: at a failure, at a return, or at the end.
		upTo = s.machine.Int(s.builder.Global(program.Progress))
	}
	outcome.Bound = s.commit(program, upTo)
	s.follow(program, outcome.Bound, out)
	if err != nil {
		outcome.Err = s.failure(program, err, outcome.Bound)
		s.giveBack(program, earlier)
		return outcome
	}
	for _, v := range program.Results {
		outcome.Values = append(outcome.Values, s.machine.Value(s.builder.Global(v)))
		outcome.Types = append(outcome.Types, types.TypeString(v.Type(), (*types.Package).Name))
	}
	s.giveBack(program, earlier)
	return outcome
}

func (s *Session) call(r *run.Run, program *check.Program) error {
	pkg := s.builder.Program.Package(program.Package)
	if program.RunInit {
		if err := s.machine.Call(r, pkg.Func("init")); err != nil {
			return err
		}
	}
	if program.Entry == "" {
		return nil
	}
	return s.machine.Call(r, pkg.Func(program.Entry))
}

func (s *Session) begin(r *run.Run) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.stops = r
}

func (s *Session) end() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.stops = nil
}

// commit makes the names of the program known to later cells, and lists them.
func (s *Session) commit(program *check.Program, upTo int) []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	next := s.state.Copy()
	next.Commit(program, upTo)
	s.state = next
	unfinished := map[types.Object]bool{}
	for _, f := range program.Fresh {
		if f.Statement >= upTo {
			unfinished[f.Var] = true
		}
	}
	var bound []string
	for name, object := range program.Defines {
		if !unfinished[object] {
			bound = append(bound, name)
		}
	}
	sort.Strings(bound)
	return bound
}

// dimension is what a session variable measures at present.
func (s *Session) dimension(name string) (quantity.Dimension, bool) {
	q, ok := s.present(name)
	return q.Dimension(), ok
}

// unit is what it is shown in.
func (s *Session) unit(name string) string {
	q, _ := s.present(name)
	return q.Unit().Symbol()
}

// present is the value of a session variable, if it is a quantity with a dimension.
func (s *Session) present(name string) (quantity.Quantity, bool) {
	s.mu.Lock()
	known, ok := s.state.Lookup(name)
	s.mu.Unlock()
	v, isVar := known.Object.(*types.Var)
	if !ok || !isVar {
		return quantity.Quantity{}, false
	}
	g := s.builder.Global(v)
	if g == nil {
		return quantity.Quantity{}, false
	}
	q, ok := s.machine.Value(g).(quantity.Quantity)
	return q, ok && q != (quantity.Quantity{})
}

// IsComplete says whether a text is a whole cell: "complete", "incomplete" with the indent of the line
// to come, or "invalid".
func (s *Session) IsComplete(text string) (status, indent string) { return parse.IsComplete(text) }

// refusal is what the engine refuses, as a diagnostic.
func (s *Session) refusal(cell source.Cell, err error) error {
	var refused *run.Refused
	if !errors.As(err, &refused) {
		return fmt.Errorf("cobber: %w", err)
	}
	offset := 0
	if at, o, ok := s.state.Set.Cell(refused.Pos); ok && at == cell {
		offset = o
	}
	d := diag.New("refused", cell, offset, 1, refused.Reason)
	d.Detail = refused.Instead
	return diag.List{d}
}
