package cells

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
)

const storyFolder = "../../../testdata/cells"

// A story is one file of testdata/cells.
type story struct {
	name    string
	path    string
	archive *txtar.Archive
	cells   []string
	program string // empty: made from the cells
	golden  result
	refused string // why the engine refuses it; empty for a story that runs
}

// A result is what a story shows, by the compiled program or by a session.
type result struct {
	output string
	panic  string // message, then "cell N, line M" on a line of its own
}

func readStories(t *testing.T) []*story {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(storyFolder, "*.txt"))
	if err != nil {
		t.Fatal(err)
	}
	if len(paths) == 0 {
		t.Fatalf("no stories in %s", storyFolder)
	}
	var stories []*story
	for _, path := range paths {
		one, err := readStory(path)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		stories = append(stories, one)
	}
	return stories
}

func readStory(path string) (*story, error) {
	archive, err := txtar.ParseFile(path)
	if err != nil {
		return nil, err
	}
	one := &story{name: strings.TrimSuffix(filepath.Base(path), ".txt"), path: path, archive: archive}
	for _, section := range archive.Files {
		text := string(section.Data)
		switch section.Name {
		case "program":
			one.program = text
		case "output":
			one.golden.output = text
		case "panic":
			one.golden.panic = text
		case "refused":
			one.refused = strings.TrimSpace(text)
		case fmt.Sprintf("cell %d", len(one.cells)+1):
			one.cells = append(one.cells, text)
		default:
			return nil, fmt.Errorf("section %q: want cell %d, program, output, panic or refused", section.Name, len(one.cells)+1)
		}
	}
	if len(one.cells) == 0 {
		return nil, fmt.Errorf("no cell")
	}
	if strings.TrimSpace(string(archive.Comment)) == "" {
		return nil, fmt.Errorf("no sentence on top that says what the story holds")
	}
	return one, nil
}

// write puts a section into the file, or takes it out when it is empty and
// need not be there.
func (one *story) write(section, text string, needed bool) error {
	var files []txtar.File
	for _, file := range one.archive.Files {
		if file.Name != section {
			files = append(files, file)
		}
	}
	if text != "" || needed {
		files = append(files, txtar.File{Name: section, Data: []byte(text)})
	}
	one.archive.Files = files
	return os.WriteFile(one.path, txtar.Format(one.archive), 0o644)
}

func (one *story) hasOutput() bool {
	for _, file := range one.archive.Files {
		if file.Name == "output" {
			return true
		}
	}
	return false
}

// text is the story's cells as a failure message shows them, with line numbers.
func (one *story) text() string {
	var b strings.Builder
	for i, cell := range one.cells {
		fmt.Fprintf(&b, "cell %d:\n", i+1)
		for n, line := range strings.Split(strings.TrimSuffix(cell, "\n"), "\n") {
			fmt.Fprintf(&b, "%4d  %s\n", n+1, line)
		}
	}
	return b.String()
}
