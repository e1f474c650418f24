package notebook

// Metadata of a cell lie under the program's name, as those of other tools do
// under theirs.
const (
	ownMetadata   = "cobber"
	inputMetadata = "inputs"
)

// setInputs keeps inputs in the metadata of a cell, in place of those of an
// earlier run.
func (c *Cell) setInputs(inputs []Input) {
	own, _ := c.Metadata[ownMetadata].(map[string]any)
	if own == nil && len(inputs) == 0 {
		return
	}
	next := map[string]any{}
	for key, value := range own {
		if key != inputMetadata {
			next[key] = value
		}
	}
	if len(inputs) > 0 {
		var list []any
		for _, in := range inputs {
			list = append(list, map[string]any{"name": in.Name, "own": in.Own, "value": in.Value, "set": in.Set})
		}
		next[inputMetadata] = list
	}
	metadata := map[string]any{}
	for key, value := range c.Metadata {
		metadata[key] = value
	}
	if metadata[ownMetadata] = next; len(next) == 0 {
		delete(metadata, ownMetadata)
	}
	c.Metadata = metadata
}

// Inputs returns the inputs that the last run bound in a cell.
func (c *Cell) Inputs() []Input {
	own, _ := c.Metadata[ownMetadata].(map[string]any)
	list, _ := own[inputMetadata].([]any)
	var inputs []Input
	for _, entry := range list {
		about, _ := entry.(map[string]any)
		var in Input
		in.Name, _ = about["name"].(string)
		in.Own, _ = about["own"].(string)
		in.Value, _ = about["value"].(string)
		in.Set, _ = about["set"].(bool)
		if in.Name != "" {
			inputs = append(inputs, in)
		}
	}
	return inputs
}
