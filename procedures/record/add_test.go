package record

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"evenpull/procedures/sshsig/testkey"
)

// What comes from elsewhere is told by what is here, and nothing that is here is lost.
func TestAddTellsHowTheOneHereAndTheOneThatComesLie(t *testing.T) {
	whole := []byte("header\none\ntwo\nthree\n")
	other := []byte("header\none\n2\n")
	sig, another := testkey.Sign(1, whole, SignatureUse), testkey.Sign(2, whole, SignatureUse)
	sig2 := append([]byte("again\n"), sig...) // other bytes, as those of most kinds of key are each time
	for _, tt := range []struct {
		name           string
		here, hereSig  []byte
		comes, sig     []byte
		catchUp        bool
		taken          Taken
		says           string // of the refusal
		after, sigThen []byte
	}{
		{"new", nil, nil, whole, sig, false, Added, "", whole, sig},
		{"the same", whole, sig, whole, sig, false, Here, "", whole, sig},
		{"the same, here signed", whole, sig, whole, nil, false, Here, "", whole, sig},
		{"the same, signed there", whole, nil, whole, sig, false, Added, "", whole, sig},
		{"the same, signed by another", whole, sig, whole, another, true, Added, "", whole, sig},
		{"the same, signed again by the same", whole, sig, whole, sig2, false, Here, "", whole, sig},
		{"the same, signed badly by the same", whole, testkey.Sign(2, other, SignatureUse), whole, another, false, Added, "", whole, testkey.Sign(2, other, SignatureUse)},
		{"longer here", whole, nil, whole[:11], sig, true, Behind, "", whole, nil},
		{"shorter here", whole[:11], nil, whole, sig, false, Here, "which has 2 lines more", whole[:11], nil},
		{"one line shorter", whole[:15], nil, whole, nil, false, Here, "which has 1 line more; the one here stays as it is; to let the one here go on with them, give --catch-up", whole[:15], nil},
		{"shorter here, to catch up", whole[:11], nil, whole, sig, true, CaughtUp, "", whole, sig},
		{"half a line here, to catch up", whole[:13], nil, whole, nil, true, CaughtUp, "", whole, nil},
		{"shorter and signed here", whole[:11], sig, whole, sig, true, Here, "since the one here was signed", whole[:11], sig},
		{"gone on apart", other, nil, whole, sig, true, Here, "alike up to line 2 and differ from there; the one here stays", other, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := newStore(t)
			const id = "2026-01-02-7-cover"
			path := s.Path(id)
			if err := s.makeDir(); err != nil {
				t.Fatal(err)
			}
			if tt.here != nil {
				writeFile(t, path, tt.here)
			}
			if tt.hereSig != nil {
				writeFile(t, SignaturePath(path), tt.hereSig)
			}
			taken, err := s.Add(id, tt.comes, signedWith(tt.sig)[:min(len(tt.sig), 1)], tt.catchUp)
			if taken != tt.taken || (err != nil) != (tt.says != "") {
				t.Errorf("taken %d, %v; want %d", taken, err, tt.taken)
			}
			if err != nil {
				wantText(t, err, tt.says)
			}
			files := map[string][]byte{path: tt.after, SignaturePath(path): tt.sigThen}
			second := filepath.Join(filepath.Dir(path), SignatureName(filepath.Base(path), false, another))
			if files[second] = nil; tt.taken == Added && tt.hereSig != nil {
				files[second] = another
			}
			for name, want := range files {
				if got, err := os.ReadFile(name); !bytes.Equal(got, want) || want != nil && err != nil {
					t.Errorf("%s holds %q, %v; want %q", name, got, err, want)
				}
			}
			if n := len(new(Beside).files(path)); n > 2 || n == 2 && files[second] == nil {
				t.Errorf("%d signatures lie beside it", n)
			}
		})
	}
}

// A record that catches up is what it was or what it becomes, whichever
// operation fails or when the power is cut, and it can be tried again.
func TestCatchingUpIsWholeOrNotBegun(t *testing.T) {
	n := 0
	for fails := true; fails; n++ {
		j, d, _ := newJob(t, true)
		path := j.store.Path(j.id)
		here := bytes.TrimSuffix(readFile(t, path), j.torn)
		writeFile(t, path, here)
		comes := slices.Concat(here, []byte("another line\n"))
		d.kept[path].kept, d.kept[path].size = here, len(here)
		d.fails = n
		d.onStep = func() {
			d.cuts(true, func(names map[string]*inode, of *inode, content []byte) {
				got := names[path]
				if got == nil {
					t.Fatalf("the record is gone after %v", d.ops)
				}
				left := got.kept
				if got == of {
					left = content
				}
				if !bytes.Equal(left, here) && !bytes.Equal(left, comes) {
					t.Fatalf("a power cut after %v leaves %q", d.ops, left)
				}
			})
		}
		_, err := j.store.Add(j.id, comes, nil, true)
		if fails = errors.Is(err, errTape); !fails && err != nil {
			t.Fatal(err)
		}
		d.onStep()
		if taken, err := j.store.Add(j.id, comes, nil, true); err != nil || !bytes.Equal(readFile(t, path), comes) {
			t.Errorf("operation %d (%v) failed; tried again: %d, %v", n, d.ops[min(n, len(d.ops)-1)], taken, err)
		}
	}
	if n < 7 { // open, write, sync, close, rename, sync of the folder; and none
		t.Errorf("only %d operations went through the store's disk", n-1)
	}
}
