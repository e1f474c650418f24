package server

import (
	"testing"

	"cobber/kernel/wire"
)

// JupyterLab says by cellId in the metadata of a request which cell it runs.
func TestACellKeepsTheNameThatTheFrontEndHasForIt(t *testing.T) {
	s := &Server{count: 3}
	for want, metadata := range map[string]map[string]any{"a1": {"cellId": "a1"}, "": {"cellId": 7}} {
		cell := s.cell(&wire.Message{Metadata: metadata}, executeRequest{Code: "x"})
		if cell.ID != want || cell.Name != "cell 3" || cell.Text != "x" {
			t.Errorf("%v: cell %+v", metadata, cell)
		}
	}
}
