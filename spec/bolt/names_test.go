package bolt

import (
	"testing"
)

func TestEveryThreadNameIsReadAsItself(t *testing.T) {
	names := ThreadNames()
	if len(names) < 250 {
		t.Fatalf("%d names", len(names))
	}
	for _, name := range names {
		thread, err := ParseThread(name)
		if err != nil || thread.Name != name {
			t.Errorf("%s is read as %q, %v", name, thread.Name, err)
		}
	}
}

func TestNamesAreJoinedForAChoice(t *testing.T) {
	for want, names := range map[string][]string{"": nil, "a": {"a"}, "a or b": {"a", "b"}, "a, b or c": {"a", "b", "c"}} {
		if got := choice(names); got != want {
			t.Errorf("%q are joined as %q", names, got)
		}
	}
}
