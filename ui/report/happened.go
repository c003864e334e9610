package report

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec/ident"
)

// happened fills in what the events tell: timeline, deviations, refused dones
// and what was not earned.
func (b *builder) happened() {
	s := &b.sheet
	s.Timeline, s.Deviations, s.Refused, s.Findings = []Entry{}, []Deviation{}, []Refused{}, []Finding{}
	for _, e := range b.s.Events {
		counts := b.unearn[e.Seq] == nil
		s.Timeline = append(s.Timeline, Entry{e.Seq, e.At, clean(string(e.Kind)), clean(b.words(e)), counts, walk.FromPaper(e.Facts)})
		if e.Kind == walk.Refused && counts {
			s.Refused = append(s.Refused, Refused{e.Seq, e.At, cleanAll(e.Outstanding)})
		}
	}
	for _, d := range b.s.Deviations {
		s.Deviations = append(s.Deviations, Deviation{d.Seq, d.At, clean(d.Text)})
	}
	for _, f := range b.in.Findings {
		s.Findings = append(s.Findings, Finding{f.Event.Seq, clean(string(f.Event.Kind)), clean(f.Refusal.Error())})
	}
}

// words tells one event in a line.
func (b *builder) words(e walk.Event) string {
	text := string(e.Kind)
	switch e.Kind {
	case walk.Confirmed:
		text = b.itemText(e)
		if e.Reading != "" {
			text += ", read " + e.Reading
		}
	case walk.Measured:
		text = fmt.Sprintf("%s: %s", b.itemText(e), e.Reading)
	case walk.Answered:
		text = said(b.itemText(e), e.Answer)
	case walk.Renewed:
		text = "new: " + b.ownerText(e)
		if e.Number != "" {
			text += ", number " + e.Number
		}
	case walk.Lost:
		text = e.Fastener + ": angle lost"
	case walk.Trouble:
		text = e.Fastener + ": trouble"
	case walk.Rejected:
		text = fmt.Sprintf("%s: %s refused", b.itemText(e), e.Reading)
	case walk.Refused:
		text = fmt.Sprintf("done refused, %d outstanding", len(e.Outstanding))
	case walk.Undone:
		text = b.undone(e.Seq)
	case walk.Resealed:
		text = "sealed afresh"
	case walk.Found:
		return b.foundText(e)
	case walk.Refitted, walk.Accounted, walk.Cleaned:
		of := b.thingText(e)
		if e.Piece != "" {
			of += ", " + e.Piece
		}
		text = of + ": " + text
	case walk.Brought:
		text = fmt.Sprintf("came off in earlier walks: %d on the list", len(e.Brought))
	case walk.Settled:
		return b.itemText(e) + ": " + walk.AnswerText(e.Facts, e.Reading, e.Text)
	case walk.PutOff:
		text = b.itemText(e) + ": put off to the end"
	case walk.Resheeted:
		return "the sheet was edited (" + e.Text + "); SHA-256 from here on " + record.TextHash([]byte(e.Sheet))
	case walk.Changed:
		text = "wrench set for " + b.itemText(e)
		if e.Facts[walk.SetFor] == "" {
			text = "socket changed for " + b.itemText(e)
		}
	case walk.Noted:
		text = "note"
		if of := b.s.TopicText(e); of != "" {
			text += " on " + of
		}
		return text + ": " + e.Text
	case walk.Pictured:
		p, _ := walk.PhotoOf(e)
		if text = p.Text(e.Text); b.s.TopicText(e) != "" {
			text += ", of " + b.s.TopicText(e)
		}
		return text + " (SHA-256 " + p.SHA256 + ")"
	}
	if e.Text != "" && e.Kind != walk.Undone {
		text += " (" + e.Text + ")"
	}
	return text + facts(e.Facts)
}

// foundText says how something was found.
func (b *builder) foundText(e walk.Event) string {
	of := b.thingText(e)
	if e.Piece != "" {
		of += ", " + e.Piece
	}
	if e.Facts[walk.NewName] != "" {
		of += ", on no sheet"
	}
	text := of + ": found " + walk.Facts(e.Facts).Text()
	if e.Facts[walk.Inside] == "no" {
		text += ", not in the engine"
	}
	if e.Text != "" {
		text += " (" + e.Text + ")"
	}
	return strings.TrimSuffix(text, " ")
}

// itemText is the line an event is about, as it was asked then.
func (b *builder) itemText(e walk.Event) string {
	if it, ok := b.s.ItemAt(e.Seq, e.Item); ok {
		return it.Text()
	}
	return e.Item
}

// thingText names what came off: a fastener by its id, a part by its name.
func (b *builder) thingText(e walk.Event) string {
	if e.Fastener != "" {
		return e.Fastener
	}
	return strings.TrimPrefix(b.itemText(e), "part: ")
}

func (b *builder) ownerText(e walk.Event) string {
	switch {
	case e.Fastener != "" && e.Piece == "fastener":
		return e.Fastener + " itself"
	case e.Fastener != "":
		return e.Fastener + " " + e.Piece
	}
	return e.Piece
}

// undone finds what an undo took back: the walk says so among its deviations.
func (b *builder) undone(seq int) string {
	list := b.s.Deviations
	for i := sort.Search(len(list), func(i int) bool { return list[i].Seq >= seq }); i < len(list) && list[i].Seq == seq; i++ {
		if strings.HasPrefix(list[i].Text, undonePrefix) {
			return list[i].Text
		}
	}
	return "undone"
}

const undonePrefix = "undone: "

func facts(m map[string]string) string {
	keys := make([]string, 0, len(m))
	for k := range m {
		if k != walk.Paper { // said apart: see Entry.Said
			keys = append(keys, k)
		}
	}
	slices.Sort(keys)
	text := ""
	for _, k := range keys {
		text += fmt.Sprintf("; %s: %s", k, m[k])
	}
	return text
}

// renewals lists every new piece that was put in, and whether it still counts.
func (b *builder) renewals() []Renewal {
	list := []Renewal{}
	standing := map[string][]int{} // owner → indexes of list, the newest last
	for _, e := range b.s.Events {
		if b.unearn[e.Seq] != nil {
			continue
		}
		switch e.Kind {
		case walk.Renewed:
			owner := e.Fastener + e.Item
			standing[owner] = append(standing[owner], len(list))
			list = append(list, Renewal{Seq: e.Seq, At: e.At, Of: b.ownerName(e), Piece: b.pieceText(e), Number: clean(e.Number), Stands: true, Paper: walk.FromPaper(e.Facts)})
		case walk.Undone:
			takeBack(list, standing, b.undone(e.Seq))
		}
	}
	b.usedUp(list)
	return list
}

// takeBack marks the newest standing renewal that an undo names. Undo is last
// in, first out, so the newest of that owner is the one.
func takeBack(list []Renewal, standing map[string][]int, text string) {
	owner, _, isRenewal := strings.Cut(strings.TrimPrefix(text, undonePrefix), " renewed (")
	at := standing[owner]
	if !isRenewal || len(at) == 0 {
		return
	}
	list[at[len(at)-1]].Stands = false
	standing[owner] = at[:len(at)-1]
}

// usedUp marks renewals of pieces that have to be new and are recorded as such
// from another time, or no more: they were used and thrown away since.
func (b *builder) usedUp(list []Renewal) {
	now := map[string]walk.Renewable{}
	for _, p := range b.s.Pieces() {
		now[pieceKey(p.Fastener, p.Part, p.Name)] = p
	}
	for i := range list {
		e := b.s.Events[list[i].Seq-1]
		p, needed := now[pieceKey(e.Fastener, partOf(e), e.Piece)]
		if !needed {
			continue
		}
		list[i].Stands = list[i].Stands && p.Renewed && p.At.Equal(e.At)
		list[i].Late = list[i].Stands && p.Late
		if list[i].Stands {
			list[i].Why = clean(p.Why)
		}
	}
}

// partOf is the part an event is about, or "".
func partOf(e walk.Event) string {
	id, _ := ident.PartOf(e.Item)
	return id
}

func pieceKey(fastener, part, name string) string { return fastener + "\x00" + part + "\x00" + name }

func (b *builder) ownerName(e walk.Event) string {
	if e.Fastener != "" {
		return clean(e.Fastener)
	}
	return clean(e.Piece)
}

func (b *builder) pieceText(e walk.Event) string {
	if e.Fastener != "" && e.Piece == "fastener" {
		return "the fastener itself"
	}
	return clean(e.Piece)
}
