package plan

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

// TargetText gives the stage's figure as the sheet means it: "8 N·m to 9 N·m",
// "90°", "loosen fully", "wait 4h".
func (s *Stage) TargetText() string {
	switch t := s.Target; s.Action {
	case spec.Torque:
		return t.Torque.Text()
	case spec.Verify:
		return "verify " + t.Torque.Text()
	case spec.Turn:
		return "turn " + t.Turn.Text()
	case spec.Loosen:
		if t.Fully {
			return "loosen fully"
		}
		return "loosen " + t.Turn.Text()
	case spec.Remove:
		return "remove"
	case spec.Stretch:
		text := "stretch " + t.Stretch.Text()
		if t.Ceiling != nil {
			text += ", at most " + t.Ceiling.String()
		}
		return text
	}
	return "wait " + spec.Span(s.Pass.Wait)
}

// HasFigure reports whether there is a figure to keep to: there is none where a fastener
// is let go until it is free, or taken out.
func (s *Stage) HasFigure() bool { return s.Action != spec.Remove && !s.Target.Fully }

// jsonStage is the contract of `plan --json`.
type jsonStage struct {
	Number   int         `json:"number"`
	Pass     string      `json:"pass"`
	Fastener string      `json:"fastener"`
	Group    string      `json:"group"`
	Action   spec.Action `json:"action"`
	Target   jsonTarget  `json:"target"`
	Why      string      `json:"why"`
	Because  string      `json:"because,omitempty"`
	Source   string      `json:"source,omitempty"`
}

// jsonTarget gives the figure as text and, where it has one, as a number: the
// middle of a range, with the range beside it.
type jsonTarget struct {
	Text    string   `json:"text"`
	Nm      *float64 `json:"nm,omitempty"`
	Degrees *float64 `json:"degrees,omitempty"`
	Mm      *float64 `json:"mm,omitempty"`
	Low     *float64 `json:"low,omitempty"`
	High    *float64 `json:"high,omitempty"`
	Percent string   `json:"percent,omitempty"`
}

// Document is a plan as JSON: every stage in order.
type Document struct {
	Procedure string         `json:"procedure"`
	Engine    string         `json:"engine"`
	Direction spec.Direction `json:"direction"` // close or open
	Stages    []jsonStage    `json:"stages"`
}

// WriteJSON writes the plan as one JSON document, stage by stage: that of the largest
// sheet would take more memory than all the rest of the plan.
func (p *Plan) WriteJSON(w io.Writer) error {
	out := bufio.NewWriter(w)
	head, err := indented(Document{p.Procedure.Name, p.Procedure.Engine, p.Procedure.Direction, []jsonStage{}}, "")
	if err != nil {
		return err
	}
	const stages = `"stages": ` // bare quotes stand in no text
	head, tail, _ := bytes.Cut(head, []byte(stages+"[]"))
	_, _ = out.Write(append(head, stages...))
	between := "[\n    "
	for _, s := range p.Stages {
		js := jsonStage{Number: s.Number, Pass: s.Pass.Name, Action: s.Action, Target: s.jsonTarget(), Why: s.Why(), Because: s.Pass.Because}
		if s.Fastener != nil {
			js.Fastener, js.Group = s.Fastener.ID, s.Fastener.Group.ID
			js.Source = p.Procedure.SourceOf(s.Pass, s.Fastener.Group)
		}
		text, err := indented(js, "    ")
		if err != nil {
			return err
		}
		_, _ = out.WriteString(between)
		_, _ = out.Write(bytes.TrimSuffix(text, []byte("\n")))
		between = ",\n    "
	}
	_, _ = out.WriteString(map[bool]string{true: "[]", false: "\n  ]"}[len(p.Stages) == 0])
	_, _ = out.Write(tail)
	return out.Flush() // with the first thing that went wrong
}

func indented(v any, prefix string) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent(prefix, "  ")
	err := enc.Encode(v)
	return b.Bytes(), err
}

func (s *Stage) jsonTarget() jsonTarget {
	t := jsonTarget{Text: s.TargetText(), Percent: s.Target.Percent}
	switch s.Action {
	case spec.Torque, spec.Verify:
		t.Nm, t.Low, t.High = middle(s.Target.Torque.Low, s.Target.Torque.High, quantity.Torque.Nm)
	case spec.Turn, spec.Loosen:
		t.Degrees, t.Low, t.High = middle(s.Target.Turn.Low, s.Target.Turn.High, quantity.Angle.Degrees)
	case spec.Stretch:
		t.Mm, t.Low, t.High = middle(s.Target.Stretch.Low, s.Target.Stretch.High, quantity.Length.Mm)
	}
	return t
}

// middle gives the figure, and its limits where there are two different ones.
func middle[T any](low, high *T, in func(T) float64) (mid, lo, hi *float64) {
	switch {
	case low == nil && high == nil:
		return nil, nil, nil
	case high == nil:
		v := in(*low)
		return &v, &v, nil
	case low == nil:
		v := in(*high)
		return &v, nil, &v
	}
	a, b := in(*low), in(*high)
	if a == b {
		return &a, nil, nil
	}
	m := (a + b) / 2
	return &m, &a, &b
}

// WriteText writes the plan for a person: pass by pass, one line a stage, the
// reason where it changes.
func (p *Plan) WriteText(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "%s (%s)\n", p.Procedure.Name, p.Procedure.Direction)
	if p.Procedure.Engine != "" {
		fmt.Fprintf(b, "engine: %s\n", p.Procedure.Engine)
	}
	if p.Procedure.Source != "" {
		fmt.Fprintf(b, "source: %s\n", p.Procedure.Source)
	}
	var pass *spec.Pass
	block := ""
	for _, s := range p.Stages {
		if s.Pass != pass {
			pass, block = s.Pass, ""
			fmt.Fprintf(b, "\n%s\n", pass.Name)
			if pass.Because != "" {
				fmt.Fprintf(b, "  because %s\n", pass.Because)
			}
		}
		if s.Fastener == nil {
			fmt.Fprintf(b, "%4d  %s\n", s.Number, s.TargetText())
			continue
		}
		figure := s.TargetText()
		if s.Target.Percent != "" {
			figure += " (" + s.Target.Percent + ")"
		}
		if s.Block != block {
			block = s.Block
			fmt.Fprintf(b, "      %s\n", block)
		}
		fmt.Fprintln(b, strings.TrimRight(fmt.Sprintf("%4d  %-6s %-24s %s", s.Number, s.Fastener.ID, figure, s.Place()), " "))
	}
	return b.Flush() // with the first thing that went wrong
}
