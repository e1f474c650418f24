package server

import (
	"regexp"
	"slices"
	"strings"
	"sync"

	"cobber/kernel/wire"
)

// history holds the cells that were run, and where it is kept in a file those
// of earlier sessions, without their outputs. It is added to by the executing
// goroutine and read by others.
type history struct {
	past  *past // nil where no file is kept
	mu    sync.Mutex
	cells []pastCell
}

type pastCell struct {
	session int
	line    int
	input   string
	output  *string // text of the result; nil where there was none
}

func (h *history) add(line int, input string, data map[string]any) {
	cell := pastCell{line: line, input: input}
	if text, ok := data["text/plain"].(string); ok {
		cell.output = &text
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	h.cells = append(h.cells, cell)
}

// all gives the cells from the oldest to the newest, and the number of this
// session.
func (h *history) all() (cells []pastCell, this int) {
	earlier, this := h.past.sessions()
	h.mu.Lock()
	defer h.mu.Unlock()
	cells = append(slices.Clone(earlier), h.cells...)
	for i := len(earlier); i < len(cells); i++ {
		cells[i].session = this
	}
	return cells, this
}

type historyRequest struct {
	Output  bool   `json:"output"`
	Access  string `json:"hist_access_type"`
	Session int    `json:"session"`
	Start   int    `json:"start"`
	Stop    *int   `json:"stop"`
	N       *int   `json:"n"`
	Pattern string `json:"pattern"`
	Unique  bool   `json:"unique"`
}

type historyReply struct {
	Status  string   `json:"status"`
	History [][3]any `json:"history"`
}

func (s *Server) historyRequest(m *wire.Message) (any, error) {
	var request historyRequest
	if err := decode(m, &request); err != nil {
		return nil, err
	}
	reply := historyReply{"ok", [][3]any{}}
	cells, this := s.history.all()
	for _, cell := range request.choose(cells, this) {
		var text any = cell.input
		if request.Output {
			text = [2]any{cell.input, cell.output}
		}
		reply.History = append(reply.History, [3]any{cell.session, cell.line, text})
	}
	return reply, nil
}

func (r historyRequest) choose(cells []pastCell, this int) []pastCell {
	switch r.Access {
	case "tail":
		return r.last(cells)
	case "range":
		return r.between(cells, this)
	case "search":
		return r.last(r.matching(cells))
	}
	return nil
}

func (r historyRequest) last(cells []pastCell) []pastCell {
	if r.N == nil {
		return cells
	}
	return cells[len(cells)-min(max(*r.N, 0), len(cells)):]
}

// between gives lines from start up to but not including stop. Session 0 is
// the current one, -1 the one before it.
func (r historyRequest) between(cells []pastCell, this int) []pastCell {
	session := r.Session
	if session <= 0 {
		session += this
	}
	return slices.DeleteFunc(cells, func(cell pastCell) bool {
		return cell.session != session || cell.line < r.Start || r.Stop != nil && cell.line >= *r.Stop
	})
}

// matching gives the cells whose whole text fits the pattern, and of equal
// ones only the last if that is asked for.
func (r historyRequest) matching(cells []pastCell) []pastCell {
	pattern := globPattern(r.Pattern)
	seen := map[string]bool{}
	var found []pastCell
	for _, cell := range slices.Backward(cells) {
		if !pattern.MatchString(cell.input) || r.Unique && seen[cell.input] {
			continue
		}
		seen[cell.input] = true
		found = append(found, cell)
	}
	slices.Reverse(found)
	return found
}

// globPattern reads a pattern as a shell does: * for any text, ? for any
// character, [abc] for one of several. A bracket that is not closed is itself.
func globPattern(glob string) *regexp.Regexp {
	if glob == "" {
		glob = "*"
	}
	var b strings.Builder
	b.WriteString(`(?s)\A`)
	for rest := glob; rest != ""; {
		end := 1
		switch rest[0] {
		case '*':
			b.WriteString(`.*`)
		case '?':
			b.WriteString(`.`)
		case '[':
			if closing := strings.IndexByte(rest, ']'); closing > 1 {
				set := rest[1:closing]
				negated := strings.TrimLeft(set[:1], "!^") == ""
				if negated {
					set = set[1:]
				}
				b.WriteString(map[bool]string{true: `[^`, false: `[`}[negated])
				b.WriteString(strings.NewReplacer(`\`, `\\`, `[`, `\[`, `^`, `\^`).Replace(set) + `]`)
				end = closing + 1
				break
			}
			b.WriteString(`\[`)
		default:
			end = strings.IndexAny(rest, "*?[")
			if end < 0 {
				end = len(rest)
			}
			b.WriteString(regexp.QuoteMeta(rest[:end]))
		}
		rest = rest[end:]
	}
	pattern, err := regexp.Compile(b.String() + `\z`)
	if err != nil {
		return regexp.MustCompile(`\A` + regexp.QuoteMeta(glob) + `\z`)
	}
	return pattern
}
