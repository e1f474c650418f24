"""Jupyter's own tests for kernels, with every sample set."""

import jupyter_kernel_test as jkt


class CobberTests(jkt.KernelTests):
    kernel_name = "cobber"
    language_name = "go"
    file_extension = ".go"

    code_hello_world = 'import "fmt"\nfmt.Println("hello, world")'
    code_stderr = 'import ("fmt"; "os")\nfmt.Fprintln(os.Stderr, "x")'

    completion_samples = [
        {"text": 'import "fmt"\nfmt.Fprintl', "matches": {"Fprintln"}},
    ]
    complete_code_samples = ["1 + 1", "x := 3", "func f() int { return 1 }", 'import "fmt"']
    incomplete_code_samples = ["func f() {", "x := (1 +", "s := `abc", "if true {"]
    invalid_code_samples = ["x := )", "func 3() {}"]

    code_page_something = 'show.Page("text")'
    code_generate_error = 'panic("no feed")'
    code_execute_result = [
        {"code": "6*7", "result": "42"},
        {"code": '"ro" + "ck"', "result": '"rock"'},
        {"code": "2.5 * 2", "result": "5"},
    ]
    code_display_data = [{"code": "show.Value(1)", "mime": "text/plain"}]
    code_history_pattern = "6?7"
    supported_history_operations = ("tail", "range", "search")
    code_inspect_sample = 'import "fmt"\nfmt.Println'
    code_clear_output = "show.Clear(false)"


class CobberWelcomeTests(jkt.IopubWelcomeTests):
    kernel_name = "cobber"
    support_iopub_welcome = True


# The bases would be collected as tests of their own.
del jkt
