package engine

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// A tag is a number on masking tape, and tape is used again: what its sheets
// are for tells whether two engines have come under one tag.

// models are the engines the sheets walked under this tag were for, as the
// sheets word them.
func (e *Engine) models() []string {
	var list []string
	for _, w := range e.Walks {
		if w.Proc == nil || w.Proc.Engine == "" || e.calledAlso(w.Proc.Engine) {
			continue
		}
		if !containsFold(list, w.Proc.Engine) {
			list = append(list, w.Proc.Engine)
		}
	}
	return list
}

func (e *Engine) calledAlso(model string) bool { return containsFold(e.also, model) }

func containsFold(list []string, s string) bool {
	return slices.ContainsFunc(list, func(other string) bool { return strings.EqualFold(other, s) })
}

// CheckModel refuses to walk a sheet of one engine under the tag of another.
func (e Engine) CheckModel(p *spec.Procedure) error {
	models := e.models()
	if p.Engine == "" || len(models) == 0 || containsFold(models, p.Engine) || e.calledAlso(p.Engine) {
		return nil
	}
	return fmt.Errorf("the tag %s belongs to another engine: it was walked by sheets of %q, and this one is of %q; choose another tag, or if it is the same engine under another name: %s",
		e.Tag, strings.Join(models, ", "), p.Engine, shell.Line("engine", []string{e.Tag}, "--also", p.Engine))
}

// modelProblem says when folders that were merged bring two engines under one tag.
func (e *Engine) modelProblem() {
	if models := e.models(); len(models) > 1 {
		e.Problems = append(e.Problems, fmt.Sprintf("sheets of two engines were walked under the tag %s: %s; if they are one engine: %s; if not, keep the records of one in a folder of its own (--records DIR)",
			e.Tag, strings.Join(models, " and "), shell.Line("engine", []string{e.Tag}, "--also", models[1])))
	}
}

// AlsoCalled is the entry that says sheets have another name for this engine.
func AlsoCalled(model string) walk.Event {
	return walk.Event{Kind: record.Also, Text: strings.TrimSpace(model)}
}

// AllDifferences gives Differences of every procedure there is to close, each
// with the name of its sheet.
func (e Engine) AllDifferences() []string {
	var list []string
	for _, p := range e.closes() {
		for _, place := range e.closesAt(p) {
			for _, d := range e.At(place).Differences(p) {
				list = append(list, Closing{p.File, place}.Text()+": "+d)
			}
		}
	}
	return list
}
