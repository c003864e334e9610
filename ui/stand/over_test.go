package stand

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"

	"evenpull/ui/keys"
	"evenpull/ui/overlay"
)

// laid plays every scene in which an overlay has the keys, at every size.
func laid(t *testing.T, look func(r *rig, o overlay.Model, w, h int)) {
	t.Helper()
	seen := map[string]bool{}
	for _, scene := range scenes {
		r := newRig(t, caseText(t))
		scene.play(r)
		for _, size := range sizes {
			r.size(size.w, size.h)
			if o := r.model.overlay(); o != nil {
				seen[reflect.TypeOf(o).String()] = true
				w, h := r.model.overRoom()
				look(r, o, w, h)
			}
			if t.Failed() {
				t.Fatalf("at %s, %s:\n%s", scene.name, size.name, r.screen())
			}
		}
	}
	for _, want := range []string{"page.Model", "renew.Model", "convert.Model", "entry.Field", "question.Model"} {
		if !seen[want] {
			t.Errorf("no scene has a %s", want)
		}
	}
}

// What covers the figure fills its room, what lies below it leaves some.
func TestOverlaysKeepToTheirRoom(t *testing.T) {
	laid(t, func(r *rig, o overlay.Model, w, h int) {
		if n := len(o.Lines(w, h)); o.Covers() && n != h || n > h {
			t.Errorf("%T draws %d lines in %d", o, n, h)
		}
	})
}

// A key that stands on the screen does something, and every key of an overlay is named
// by what it is bound to.
func TestEveryKeyAnOverlayNamesDoesSomething(t *testing.T) {
	laid(t, func(r *rig, o overlay.Model, w, h int) {
		for _, b := range o.Keys(w, h) {
			if !b.Enabled() {
				continue
			}
			label, _, _ := strings.Cut(b.Help().Key, ", ")
			if !slices.ContainsFunc(b.Keys(), func(k string) bool { return keys.Name(k) == label }) {
				t.Errorf("%T: %q names no key of %q", o, label, b.Keys())
			}
			press := overlay.Press{KeyMsg: keyMsg(spelt(b)), W: w, H: h}
			next, did := o.Key(press)
			same := strings.Join(next.Lines(w, h), "\n") == strings.Join(o.Lines(w, h), "\n")
			if same && reflect.DeepEqual(did, overlay.Answer{}) {
				t.Errorf("%T: %s %s does nothing", o, label, b.Help().Desc)
			}
		}
	})
}

// spelt is how keyMsg knows a key.
func spelt(b key.Binding) string {
	if k := b.Keys()[0]; k != " " {
		return k
	}
	return "space"
}

// What there is to say of a walk as it is opened is seen at once, and can be looked up
// after the first key: no line of it is lost.
func TestWhatIsSaidOfAWalkAsItIsOpenedCanBeLookedUp(t *testing.T) {
	r := newRig(t, caseText(t), func(c *Config) {
		c.Notices = []string{"a torn line was kept aside\x1b[2J", "another walk of this is open too"}
	})
	r.shows("a torn line was kept aside").hides("another walk")
	r.press("o", "end").shows("notice  a torn line was kept aside", "notice  another walk of this is open too")
	if strings.Contains(r.model.View(), "\x1b[2J") {
		t.Error("an escape reaches the terminal")
	}
	r.press("esc").hides("a torn line")
}

// What was said before a figure opened its field is old when the field goes.
func TestWhatWasSaidBeforeAFieldIsGoneAfterIt(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Final/M1").press("enter").shows("confirmed: Final: M1")
	r.waits().sends("22.1", 0)
	r.press("esc").hides("confirmed: Final: M1")
}

// On the smallest screens the figure comes before the keys, and what was just said before
// the keys as well.
func TestOnATinyScreenWhatWasSaidComesBeforeTheKeys(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Final/M1")
	r.size(30, 8)
	r.shows("M1", "the wrench is set").hides("enter confirm")
	r.press("k").shows("M1", "enter confirm").hides("the wrench is set")
	r.press("enter").shows("confirmed: Final").hides("enter confirm")
}
