package walk

import (
	"maps"
	"strings"
	"testing"
)

// An event of a stranger's record names a picture that could have been kept, of
// something there is, or it does not count.
func TestAPhotoNamesAPictureAndWhatThereIs(t *testing.T) {
	with := func(key, value string) Event {
		e := Event{Kind: Pictured, Facts: maps.Clone(lobe.Facts())}
		e.Facts[key] = value
		return e
	}
	of := func(change func(*Event)) Event {
		e := with("name", lobe.Name)
		change(&e)
		return e
	}
	for name, c := range map[string]struct {
		e    Event
		want string // empty: it counts
	}{
		"of nothing single":       {with("name", "lobe.jpg"), ""},
		"of a bolt":               {of(func(e *Event) { e.Fastener = "M1" }), ""},
		"of a bolt there is not":  {of(func(e *Event) { e.Fastener = "Z9" }), `no "Z9"`},
		"of a part there is not":  {of(func(e *Event) { e.Item = "part:cam" }), `no "cam"`},
		"of a check there is not": {of(func(e *Event) { e.Item = "check:cam" }), `no "check:cam"`},
		"without a name":          {with("name", ""), "no picture is named"},
		"with an endless name":    {with("name", strings.Repeat("x", 256)), "no picture is named"},
		"half a hash":             {with("sha256", strings.Repeat("0a", 16)), "no picture is named"},
		"a hash in capitals":      {with("sha256", strings.Repeat("0A", 32)), "no picture is named"},
		"a way out of the folder": {with("sha256", "../../../../../../../../../../../../../../../../../../../../../../"), "no picture is named"},
		"of a kind there is not":  {with("type", "svg"), "no picture is named"},
	} {
		s, _ := walked(t, takingApart)
		c.e.Seq, c.e.At = len(s.Events)+1, start
		r := s.Judge(c.e)
		if (r == nil) != (c.want == "") || r != nil && !strings.Contains(r.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, r, c.want)
		}
	}
}

func TestANoteIsOfWhatIsInHandOrNamed(t *testing.T) {
	s, now := walked(t, takingApart)
	id := s.CurrentItem().Thing().ID
	must(t, s, Command{Do: Note, Text: "tender"}, now)
	must(t, s, Command{Do: Note, Target: Whole, Text: "smells of fuel"}, now)
	if got := s.SaidOf(s.fastenerThing(id)); len(got) != 1 || got[0].Text != "tender" {
		t.Errorf("%+v", got)
	}
	if got := s.SaidWhole(); len(got) != 1 || got[0].Text != "smells of fuel" {
		t.Errorf("%+v", got)
	}
	refuse(t, s, Command{Do: Note, Target: "nobody", Text: "x"}, now)
}

// What an event brings names pictures too, but none that could lead out of their folder.
func TestPicturesThatAreBroughtAreNamed(t *testing.T) {
	good := Photo{Name: "lobe.gif", SHA256: strings.Repeat("0a", 32), Type: "gif"}
	bad := []Photo{{"x", "../../x", "gif"}, {"x", good.SHA256, "../gif"}, {"x", strings.ToUpper(good.SHA256), "gif"}, {"", good.SHA256, "gif"}, {}}
	said := []Said{{Text: "words only"}, {Photo: &good, Text: "scored"}}
	for i := range bad {
		said = append(said, Said{Photo: &bad[i]})
	}
	e := Event{Kind: Brought, Brought: []Carried{{ID: "M1", Fastener: true, Name: "cover bolt", Said: said}, {ID: "cam", Name: "camshaft", Said: said}}, Faults: []Fault{{What: "Lobes good?", Said: said}}}
	var of []string
	for _, p := range PhotosTold(e) {
		of = append(of, p.Of)
		if p.Photo != good || p.Caption != "scored" {
			t.Errorf("%+v", p)
		}
	}
	if got := strings.Join(of, "|"); got != "M1|camshaft|Lobes good?" || len(PhotosNamed(e)) != 3 {
		t.Errorf("told of %s, %d named", got, len(PhotosNamed(e)))
	}
}
