package notebook

// A Notebook is the content of a notebook file.
type Notebook struct {
	Cells    []Cell
	Metadata map[string]any
	Minor    int            // minor version of format 4 that the file was read in; written as at least 5
	Unknown  map[string]any // keys of the file this package gives no meaning to
}

// Kind says what a cell holds.
type Kind string

// The kinds of cell that notebook format 4 knows.
const (
	Code     Kind = "code"
	Markdown Kind = "markdown"
	Raw      Kind = "raw"
)

// A Cell is one cell. Count and Outputs belong to code cells only.
type Cell struct {
	ID          string
	Kind        Kind
	Source      string
	Metadata    map[string]any
	Attachments map[string]any // file name -> media type -> base64 text
	Count       int            // execution count; 0 when the cell has not run
	Outputs     []Output
	Unknown     map[string]any
}

// OutputKind says what an output is.
type OutputKind string

// The kinds of output that notebook format 4 knows.
const (
	Stream  OutputKind = "stream"
	Display OutputKind = "display_data"
	Result  OutputKind = "execute_result"
	Failure OutputKind = "error"
)

// An Output is one output of a code cell. Which fields count depends on Kind.
type Output struct {
	Kind OutputKind

	Name, Text string // Stream: "stdout" or "stderr", and what was printed

	Data     map[string]any // Display, Result: media type -> text, or any JSON value for JSON media types
	Metadata map[string]any
	Count    int // Result: the execution count

	ErrorName, ErrorValue string // Failure
	Traceback             []string

	Unknown map[string]any
}

// Tagged reports whether the cell's metadata carry the tag.
func (c *Cell) Tagged(tag string) bool {
	tags, _ := c.Metadata["tags"].([]any)
	for _, t := range tags {
		if t == tag {
			return true
		}
	}
	return false
}
