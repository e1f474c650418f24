package source

import (
	"go/token"
	"testing"
)

func TestAt(t *testing.T) {
	tests := []struct {
		name, text   string
		offset       int
		line, column int
	}{
		{"start", "x", 0, 1, 1},
		{"end", "x := 1", 6, 1, 7},
		{"beyond the end", "x", 99, 1, 2},
		{"before the start", "x", -1, 1, 1},
		{"second line", "x\ny", 2, 2, 1},
		{"letters of several bytes", "µ³ x", 5, 1, 4},
		{"a tab is one character", "\t\tx", 2, 1, 3},
		{"byte order mark has no column", "\uFEFFx", 3, 1, 1},
		{"line ends of two bytes", "a\r\nb", 3, 2, 1},
		{"bytes that are no text", "\xffx", 1, 1, 2},
	}
	for _, test := range tests {
		got := Cell{Name: "cell 1", Text: test.text}.At(test.offset)
		if got.Line != test.line || got.Column != test.column {
			t.Errorf("%s: line %d, column %d, want %d, %d", test.name, got.Line, got.Column, test.line, test.column)
		}
	}
}

func TestLine(t *testing.T) {
	c := Cell{Text: "\uFEFFa\r\nb\n\nd"}
	for n, want := range map[int]string{1: "a", 2: "b", 3: "", 4: "d", 5: ""} {
		if got := c.Line(n); got != want {
			t.Errorf("line %d is %q, want %q", n, got, want)
		}
	}
}

func TestCursorAndOffset(t *testing.T) {
	c := Cell{Text: "µ := 3`m³`\n𝛼"}
	for cursor, want := range map[int]int{0: 0, 1: 2, 7: 8, 9: 11, 11: 13, 12: 17, 50: 17} {
		if got := c.Offset(cursor); got != want {
			t.Errorf("cursor %d is at offset %d, want %d", cursor, got, want)
		}
		if cursor <= 12 && c.Cursor(want) != cursor {
			t.Errorf("offset %d is cursor %d, want %d", want, c.Cursor(want), cursor)
		}
	}
}

func TestSetLeadsBackToCells(t *testing.T) {
	s := NewSet()
	one := s.Add(Cell{Name: "cell 1", Text: "a\nb"})
	two := s.Add(Cell{Name: "cell 2", Text: "µ c"})
	if two.Base() < one.Base()+one.Size()+Room {
		t.Errorf("cells at %d and %d leave less than %d free", one.Base(), two.Base(), Room)
	}
	for pos, want := range map[token.Pos]Position{
		one.Pos(2): {"cell 1", 2, 1},
		two.Pos(3): {"cell 2", 1, 3},
	} {
		if got, ok := s.Position(pos); !ok || got != want {
			t.Errorf("position %d is %v, %v; want %v", pos, got, ok, want)
		}
	}
	if _, ok := s.Position(token.Pos(1)); ok {
		t.Error("a position before all cells is in one")
	}
	at := two.Pos(0)
	s.Remove(two)
	if _, ok := s.Position(at); ok {
		t.Error("a removed cell is still found")
	}
}

func TestPositionText(t *testing.T) {
	if got, want := (Position{"cell 3", 2, 7}).String(), "cell 3, line 2, column 7"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
