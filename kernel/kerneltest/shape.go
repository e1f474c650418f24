package kerneltest

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// shapes says what the content of each message of a kernel must hold, in the
// words of the messaging protocol 5.5: the name of a field, whether it may be
// missing (?), and its kind. A kind in bars is one of several texts.
//
// Source: the message specification in the documentation of jupyter_client,
// with what JupyterLab asks beyond it (metadata of complete_reply).
var shapes = map[string]string{
	"status":              "execution_state |busy|idle|starting|",
	"execute_input":       "code text, execution_count number",
	"stream":              "name |stdout|stderr|, text text",
	"display_data":        "data bundle, metadata object, transient? object",
	"update_display_data": "data bundle, metadata object, transient object",
	"execute_result":      "data bundle, metadata object, execution_count number, transient? object",
	"error":               "ename text, evalue text, traceback texts",
	"clear_output":        "wait truth",
	"comm_close":          "comm_id text, data object",
	"iopub_welcome":       "subscription text",
	"input_request":       "prompt text, password truth",

	"execute_reply":     "status |ok|, execution_count number, payload list, user_expressions object",
	"kernel_info_reply": "status |ok|, protocol_version text, implementation text, implementation_version text, language_info object, banner text, debugger? truth, help_links? list, supported_features? list",
	"is_complete_reply": "status |complete|incomplete|invalid|unknown|, indent? text",
	"complete_reply":    "status |ok|, matches texts, cursor_start number, cursor_end number, metadata object",
	"inspect_reply":     "status |ok|, found truth, data bundle, metadata object",
	"history_reply":     "status |ok|, history list",
	"comm_info_reply":   "status |ok|, comms object",
	"interrupt_reply":   "status |ok|",
	"shutdown_reply":    "status |ok|, restart truth",
}

const (
	errorShape   = "status |error|, ename text, evalue text, traceback texts, execution_count? number, payload? list, user_expressions? object"
	abortedShape = "status |aborted|"
)

// CheckShape says what is wrong with the content of a message.
func CheckShape(msgType string, content map[string]any) error {
	shape, ok := shapes[msgType]
	if !ok {
		return fmt.Errorf("%s is no message of a kernel", msgType)
	}
	if strings.HasSuffix(msgType, "_reply") {
		switch content["status"] {
		case "error":
			shape = errorShape
		case "aborted":
			shape = abortedShape
		}
	}
	known := map[string]bool{}
	for field := range strings.SplitSeq(shape, ", ") {
		name, kind, _ := strings.Cut(field, " ")
		name, optional := strings.CutSuffix(name, "?")
		known[name] = true
		value, present := content[name]
		switch {
		case !present && !optional:
			return fmt.Errorf("%s lacks %s", msgType, name)
		case present && !isOfKind(value, kind):
			return fmt.Errorf("%s: %s is %v, which is no %s", msgType, name, value, kind)
		}
	}
	for name := range content {
		if !known[name] {
			return fmt.Errorf("%s has an unknown field %s", msgType, name)
		}
	}
	return nil
}

var mediaType = regexp.MustCompile(`^[\w\-+.]+/[\w\-+.]+$`)

func isOfKind(value any, kind string) bool {
	switch kind {
	case "text":
		_, ok := value.(string)
		return ok
	case "number":
		_, ok := value.(float64)
		return ok
	case "truth":
		_, ok := value.(bool)
		return ok
	case "object":
		_, ok := value.(map[string]any)
		return ok
	case "list":
		_, ok := value.([]any)
		return ok
	case "texts":
		list, ok := value.([]any)
		return ok && !slices.ContainsFunc(list, func(entry any) bool { return !isOfKind(entry, "text") })
	case "bundle":
		return isBundle(value)
	}
	text, ok := value.(string)
	return ok && strings.Contains(kind, "|"+text+"|")
}

// isBundle: all but JSON is text in a bundle (nbformat 4.5).
func isBundle(value any) bool {
	bundle, ok := value.(map[string]any)
	for media, content := range bundle {
		isJSON := media == "application/json" || strings.HasSuffix(media, "+json")
		if !mediaType.MatchString(media) || !isJSON && !isOfKind(content, "text") {
			return false
		}
	}
	return ok
}
