package draft

import (
	"slices"
	"strings"

	"evenpull/spec"
	"evenpull/spec/clamp"
	"evenpull/spec/measure"
)

// kind is how an answer is written in the file.
type kind int

const (
	sentence kind = iota // a text
	figure               // a text, as it was typed
	choice               // one of several texts
	flag                 // true, or left out
	count                // a whole number
	list                 // several texts
)

// field is a key that is asked for.
type field struct {
	key      string
	ask      string // what the question is called, in a word or three
	hint     string // what to write
	kind     kind
	choices  []string
	proposal string
	must     bool
	rare     bool   // asked in full only
	both     bool   // of a sheet that goes both ways only
	comment  string // stands beside it in the file
}

var jointFields = []field{
	{key: "name", ask: "what is done", hint: "Fit the main bearing caps", must: true},
	{key: "engine", ask: "engine", hint: "what the sheet is written for"},
	{key: "direction", ask: "direction", hint: "close tightens; open loosens and takes out; both: one sheet for either", kind: choice, choices: []string{"close", "open", "both"}, proposal: "close", must: true, comment: "close: tighten.  open: loosen and take out.  both"},
	{key: "closing", ask: "called, closing", hint: "what it is called when it is closed: Close the gearbox", both: true},
	{key: "opening", ask: "called, opening", hint: "what it is called when it is opened: Open the gearbox", both: true},
	{key: "source", ask: "source", hint: "manual, sheet and page of the figures; without it they are marked unsourced"},
}

var groupFields = []field{
	{key: "title", ask: "called", hint: "main cap bolts"},
	{key: "thread", ask: "thread", hint: "M8x1.25 or 3/8-16 UNC", must: true},
	{key: "class", ask: "class", hint: "the mark on the head: 8.8, 10.9, A2-70, SAE 5; none: leave it empty", comment: "the mark on the head"},
	{key: "torque", ask: "final torque", hint: "with its unit: 22 N·m, 16 lbf·ft; passes may then say 40 % of it", kind: figure, comment: "the final figure"},
	{key: "friction", ask: "threads", hint: strings.Join(clamp.FrictionNames(), ", "), kind: choice, choices: clamp.FrictionNames()},
	{key: "drive", ask: "on the wrench", hint: "12 mm hex"},
	{key: "one_use", ask: "new ones each time", hint: "yes if a bolt is used once only", kind: flag},
	{key: "nut", ask: "class of the nut", hint: "the number on the nut, ISO 898-2: 8, 10; 04 or 05 for a thin one", rare: true},
	{key: "hand", ask: "thread hand", hint: "left for a left-hand thread", kind: choice, choices: []string{"right", "left"}, rare: true},
	{key: "bore", ask: "bored through", hint: "diameter of the bore of a hollow bolt: 5 mm", kind: figure, rare: true, comment: "hollow: first out, last in"},
	{key: "into", ask: "screwed into", hint: "cast aluminium, steel, cast iron …", rare: true},
	{key: "engagement", ask: "thread engaged", hint: "how much thread holds: 16 mm", kind: figure, rare: true},
	{key: "insert", ask: "thread insert", hint: "wire for a wire thread insert", kind: choice, choices: []string{"wire"}, rare: true},
	{key: "grip", ask: "clamp length", hint: "head to first engaged thread: 52 mm", kind: figure, rare: true},
	{key: "clamps", ask: "under the head", hint: "what is clamped: cast aluminium, steel …", rare: true},
	{key: "shank", ask: "plain shank", hint: "within the clamp length: 30 mm; 0 mm: thread up to the head", kind: figure, rare: true},
	{key: "waist", ask: "waist", hint: "diameter the shank is turned down to: 6.5 mm", kind: figure, rare: true},
	{key: "waist_length", ask: "waist length", hint: "20 mm", kind: figure, rare: true},
	{key: "cross_hole", ask: "hole through side", hint: "2.5 mm", kind: figure, rare: true},
	{key: "light", ask: "light on purpose", hint: "why the figure is light for its bolt: crushes its washer", rare: true},
	{key: "prep", ask: "prepare threads", hint: "oil the thread and under the head", rare: true},
	{key: "prep_each", ask: "prepare each", hint: "yes to be asked at every bolt", kind: flag, rare: true},
	{key: "caution", ask: "caution", hint: "shown at the stand", rare: true},
	{key: "number", ask: "part number", hint: "of the bolt", rare: true},
	{key: "source", ask: "source of these", hint: "where these figures come from, if not as above", rare: true},
	{key: "look_for", ask: "look for", hint: "on one that came off; several: commas", kind: list, rare: true},
	{key: "condemn", ask: "condemned by", hint: "what condemns it; several: commas", kind: list, rare: true},
}

var passFields = []field{
	{key: "name", ask: "pass", hint: "Draw down, Final …; each a name of its own", must: true},
	{key: "direction", ask: "which way", hint: "whether this pass closes or opens", kind: choice, choices: []string{"close", "open"}, both: true, must: true},
	{key: "first", ask: "who goes first", hint: "where strengths differ, as the sheet says", kind: choice, choices: []string{"weak", "strong"}},
	{key: "because", ask: "because", hint: "why so, for who asks: film spreads before it skins"},
	{key: "prepare", ask: "before it", hint: "what to do to the threads before this pass", rare: true},
	{key: "caution", ask: "caution", hint: "shown at the stand", rare: true},
	{key: "source", ask: "source of these", hint: "where these figures come from, if not as above", rare: true},
}

var checkFields = []field{
	{key: "ask", ask: "question", hint: "Both dowels in place?"},
	{key: "measure", ask: "measure", hint: "crank end float"},
	{key: "min", ask: "at least", hint: "0.05 mm", kind: figure},
	{key: "max", ask: "at most", hint: "0.20 mm", kind: figure},
	{key: "each", ask: "for each of", hint: "names with commas, such as A, B; {each} in the question stands for the name", kind: list, rare: true},
	{key: "remedy", ask: "if not", hint: "what to do when it is not right"},
	{key: "direction", ask: "which way", hint: "whether it is for closing or for opening; empty: as its pass", kind: choice, choices: []string{"close", "open"}, both: true, rare: true},
	{key: "kind", ask: "kind of measuring", hint: strings.Join(measure.Names(), ", "), kind: choice, choices: measure.Names(), rare: true},
	{key: "readings", ask: "readings", hint: "how many are wanted", kind: count, rare: true},
	{key: "spread", ask: "readings apart", hint: "how far they may lie apart: 0.01 mm", kind: figure, rare: true},
	{key: "caution", ask: "caution", hint: "turn the crank by hand only", rare: true},
	{key: "source", ask: "source", hint: "where the limits come from", rare: true},
	{key: "of", ask: "about", hint: "bolts, groups or parts it is asked again for; several: commas", kind: list, rare: true},
	{key: "id", ask: "short name", hint: "crank-float", rare: true},
}

var partFields = []field{
	{key: "name", ask: "part", hint: "thrust washer", must: true},
	{key: "kind", ask: "kind", hint: strings.Join(spec.PartKinds, ", "), kind: choice, choices: spec.PartKinds},
	{key: "count", ask: "how many", hint: "1 if not said", kind: count},
	{key: "one_use", ask: "new each time", hint: "yes if it is used once only", kind: flag},
	{key: "where", ask: "where it sits", hint: "behind the clutch basket, chamfer inwards"},
	{key: "direction", ask: "which way", hint: "close or open, if it is for one of them only", kind: choice, choices: []string{"close", "open"}, both: true},
	{key: "number", ask: "part number", hint: "380-11-204", rare: true},
	{key: "caution", ask: "caution", hint: "cover it: it springs out", rare: true},
	{key: "measure", ask: "measure on it", hint: "thickness", rare: true},
	{key: "work", ask: "sent out for", hint: "balancing, coating", rare: true},
	{key: "look_for", ask: "look for", hint: "scoring; several: commas", kind: list, rare: true},
	{key: "condemn", ask: "condemned by", hint: "any step; several: commas", kind: list, rare: true},
	{key: "id", ask: "short name", hint: "the same in the sheet that opens and the one that closes", rare: true},
}

var calloutFields = []field{
	{key: "say", ask: "have ready", hint: "Flywheel holder, and a breaker bar of 600 mm", must: true},
	{key: "direction", ask: "which way", hint: "whether it is for closing or for opening; empty: as its pass", kind: choice, choices: []string{"close", "open"}, both: true, rare: true},
	{key: "kind", ask: "kind", hint: strings.Join(spec.CalloutKinds, ", "), kind: choice, choices: spec.CalloutKinds, rare: true},
	{key: "to", ask: "heat to", hint: "of heat: 120 °C", kind: figure, rare: true},
	{key: "within", ask: "then within", hint: "of heat, from hot to the next part or bolt: 30s", kind: figure, rare: true},
	{key: "caution", ask: "caution", hint: "hot parts look like cold ones", rare: true},
}

var sealantFields = []field{
	{key: "name", ask: "sealant", hint: "anaerobic flange sealant", must: true},
	{key: "work_time", ask: "work time", hint: "first smear to last stage: 20m", kind: figure, must: true, comment: "first smear to the last stage"},
	{key: "cure_time", ask: "cure time", hint: "before oil goes in: 12h", kind: figure, comment: "before oil goes in"},
}

func fieldOf(fields []field, key string) (field, bool) {
	i := slices.IndexFunc(fields, func(f field) bool { return f.key == key })
	if i < 0 {
		return field{}, false
	}
	return fields[i], true
}
