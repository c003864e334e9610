package draft

import (
	"slices"
	"strconv"
	"strings"

	"evenpull/spec"
	"evenpull/spec/pattern"
	"evenpull/spec/read"
	"evenpull/spec/sheet"
)

// pathsOf are the places in the file that a question is about.
func (d Draft) pathsOf(q Question) []sheet.Path {
	thing, key := tableOf(q.Thing), strings.TrimPrefix(q.ID, q.Thing+"/")
	switch {
	case strings.HasPrefix(q.ID, "caution/"):
		return []sheet.Path{sheet.At("procedure", "cautions", q.ID[len("caution/"):])}
	case thing == nil:
		return nil
	case key == "figure":
		return figurePaths(thing)
	case key == "at":
		return []sheet.Path{sheet.At(thing, "at"), sheet.At(thing, "caps")}
	case key == "order":
		return []sheet.Path{sheet.At(thing, "order"), sheet.At(thing, "by")}
	case key == "when":
		return []sheet.Path{sheet.At(thing, "before"), sheet.At(thing, "after")}
	case key == "groups":
		return []sheet.Path{sheet.At(thing, "groups"), sheet.At(thing, "fasteners")}
	case strings.HasPrefix(key, "with/"):
		return []sheet.Path{sheet.At(thing, "with", key[len("with/"):])}
	}
	return []sheet.Path{sheet.At(thing, key)}
}

// figurePaths are the keys that say what a pass does.
func figurePaths(pass sheet.Path) []sheet.Path {
	list := []sheet.Path{sheet.At(pass, "each"), sheet.At(pass, "ceiling")}
	for _, a := range spec.Actions {
		list = append(list, sheet.At(pass, string(a)))
	}
	return list
}

// tableOf is where a thing stands: "group/main", "pass/2", "procedure".
func tableOf(thing string) sheet.Path {
	kind, rest, ok := strings.Cut(thing, "/")
	switch {
	case strings.HasPrefix(kind, "+") || kind == "":
		return nil
	case !ok:
		return sheet.At(kind)
	}
	return sheet.At(kind, rest)
}

// linesOf are the first and last line of a path with all that is in it.
func (d Draft) linesOf(p sheet.Path) (first, last int) {
	first, last = d.text.Lines(p)
	for _, name := range d.text.Keys(p) {
		f, l := d.text.Lines(sheet.At(p, name))
		if first == 0 || f > 0 && f < first {
			first = f
		}
		last = max(last, l)
	}
	return first, last
}

// concerning gives the problems on the lines of some places.
func (d Draft) concerning(paths []sheet.Path) read.Problems {
	var list read.Problems
	for _, p := range d.problems {
		if slices.ContainsFunc(paths, func(path sheet.Path) bool {
			first, last := d.linesOf(path)
			return first > 0 && first <= p.Line && p.Line <= last
		}) {
			list = append(list, p)
		}
	}
	return list
}

var keyToAdd = pattern.Of(`\b(?:add|write) (\w+) =`)

// placeProblems puts every problem to the question that mends it: the one on its line, the
// one whose key the remedy names, the first about that thing, or the end.
func (b *asker) placeProblems() {
	type reach struct{ question, first, last int }
	var lines []reach
	heads := map[string]int{} // line of each thing's header
	for i, q := range b.list {
		for _, p := range b.d.pathsOf(q) {
			if first, last := b.d.linesOf(p); first > 0 {
				lines = append(lines, reach{i, first, last})
			}
		}
		if at := tableOf(q.Thing); at != nil {
			heads[q.Thing], _ = b.d.text.Lines(at)
		}
	}
	for _, p := range b.d.problems {
		at := -1
		for _, r := range lines {
			if r.first <= p.Line && p.Line <= r.last && (at < 0 || b.list[r.question].Kind != Places) {
				at = r.question
			}
		}
		if at < 0 {
			at = b.ofThing(p, heads)
		}
		q := &b.list[at]
		text := p.What
		if p.Remedy != "" {
			text += "; " + p.Remedy
		}
		switch {
		case p.Warning:
			q.Doubts = append(q.Doubts, text)
		case !q.missing():
			q.Wrong = append(q.Wrong, text)
		}
	}
}

// ofThing finds a question for a problem that stands at a header, or nowhere.
func (b *asker) ofThing(p read.Problem, heads map[string]int) int {
	thing, line := "", 0
	for name, head := range heads {
		if head > line && head <= p.Line {
			thing, line = name, head
		}
	}
	key := ""
	if m := keyToAdd.RE().FindStringSubmatch(p.Remedy); m != nil {
		key = m[1]
	}
	first := -1
	for i, q := range b.list {
		switch {
		case thing == "" || q.Thing != thing:
		case key != "" && q.ID == thing+"/"+key:
			return i
		case first < 0:
			first = i
		}
	}
	if first >= 0 && p.Line > 1 {
		return first
	}
	for i, q := range b.list {
		if q.missing() {
			return i
		}
	}
	return len(b.list) - 1
}

// indexOf gives the number that a thing of a list has: "pass/2" is 2.
func indexOf(thing string) int {
	_, rest, _ := strings.Cut(thing, "/")
	i, _ := strconv.Atoi(rest)
	return i
}
