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
