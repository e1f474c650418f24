package exercise

import (
	"fmt"
	"strings"

	"cobber/stdlib/table"
)

// Sheet is a class with its exercises and answers, for the teacher.
type Sheet struct {
	students []string
	tasks    []Task
	given    [][]Exercise // by student and task
}

// Class gives every student one exercise of each task.
//
// Units: students are names; the numbers of a student follow from the name.
//
// Range: any number of students and tasks.
//
// Errors: no student or no task; two students of one name, or tasks of one name;
// whatever an exercise refuses.
//
// Source: common practice, no published source.
func Class(students []string, tasks ...Task) (Sheet, error) {
	if len(students) == 0 || len(tasks) == 0 {
		return Sheet{}, fmt.Errorf("a class needs students and tasks, and has %d and %d", len(students), len(tasks))
	}
	s := Sheet{students: append([]string(nil), students...), tasks: append([]Task(nil), tasks...)}
	names := map[string]bool{}
	for _, t := range tasks {
		if names[t.name] {
			return Sheet{}, fmt.Errorf("two tasks are called %s", t.name)
		}
		names[t.name] = true
	}
	seen := map[string]bool{}
	for _, student := range students {
		key := strings.ToLower(strings.Join(strings.Fields(student), " "))
		if seen[key] {
			return Sheet{}, fmt.Errorf("two students are called %s: they would get the same numbers; add an initial", student)
		}
		seen[key] = true
		var row []Exercise
		for _, t := range tasks {
			e, err := t.GiveTo(student)
			if err != nil {
				return Sheet{}, fmt.Errorf("for %s: %w", student, err)
			}
			row = append(row, e)
		}
		s.given = append(s.given, row)
	}
	return s, nil
}

// Table has a row for each student and task: the values given and the answer.
func (s Sheet) Table() table.Table {
	var columns [4][]string
	for i, student := range s.students {
		for j, e := range s.given[i] {
			var values []string
			for _, name := range e.values.names {
				values = append(values, name+" "+e.values.Of(name).String())
			}
			for k, text := range []string{student, s.tasks[j].name, strings.Join(values, ", "), e.solved()} {
				columns[k] = append(columns[k], text)
			}
		}
	}
	t, err := table.New(table.Texts("student", columns[0]), table.Texts("exercise", columns[1]),
		table.Texts("values", columns[2]), table.Texts("answer", columns[3]))
	if err != nil {
		panic(err) // four columns of one length under four names
	}
	return t
}

// Marks marks the answers of a student, one a task in their order; an empty text
// is an answer that was not given.
//
// Units: each answer is a number with its unit, as text.
//
// Range: as many answers as tasks.
//
// Errors: a student who is not of the class, another number of answers.
//
// Source: common practice, no published source.
func (s Sheet) Marks(student string, answers ...string) ([]Mark, error) {
	for i, name := range s.students {
		if !strings.EqualFold(strings.Join(strings.Fields(name), " "), strings.Join(strings.Fields(student), " ")) {
			continue
		}
		if len(answers) != len(s.tasks) {
			return nil, fmt.Errorf("%s gave %d answers to %d exercises: put an empty text for one that is missing", student, len(answers), len(s.tasks))
		}
		var marks []Mark
		for j, answer := range answers {
			if strings.TrimSpace(answer) == "" {
				marks = append(marks, Mark{Unreadable, "nothing", "No answer was given."})
				continue
			}
			marks = append(marks, s.given[i][j].MarkText(answer))
		}
		return marks, nil
	}
	return nil, fmt.Errorf("%s is not of this class: %s", student, strings.Join(s.students, ", "))
}

// String is the sheet as text.
func (s Sheet) String() string { return s.Table().String() }

// HTML is the sheet for pages.
func (s Sheet) HTML() string { return s.Table().HTML() }

// Markdown is the sheet in Markdown.
func (s Sheet) Markdown() string { return s.Table().Markdown() }

// LaTeX is the sheet for LaTeX.
func (s Sheet) LaTeX() string { return s.Table().LaTeX() }
