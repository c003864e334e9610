package record

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"evenpull/procedures/sshsig/testkey"
	"evenpull/procedures/walk"
	"evenpull/spec/outside"
)

// spoiler changes one thing in a record. It returns the record as it was when
// the place it picked has nothing to change.
type spoiler struct {
	kind  string
	spoil func(r *rand.Rand, data []byte) []byte
	sees  string // who has to see it: chain (verify alone), or signature
}

func onLines(data []byte, change func(lines [][]byte) [][]byte) []byte {
	return bytes.Join(change(bytes.SplitAfter(bytes.TrimSuffix(data, []byte("\n")), []byte("\n"))), nil)
}

var spoilers = []spoiler{
	{"a bit flipped", func(r *rand.Rand, d []byte) []byte {
		d[r.IntN(len(d)-1)] ^= 1 << r.IntN(8)
		return d
	}, "chain"},
	{"a byte replaced", func(r *rand.Rand, d []byte) []byte {
		d[r.IntN(len(d)-1)] = byte(r.IntN(256))
		return d
	}, "chain"},
	{"a byte put in", func(r *rand.Rand, d []byte) []byte {
		at := r.IntN(len(d) - 1)
		return append(append(append([]byte{}, d[:at]...), byte(r.IntN(256))), d[at:]...)
	}, "chain"},
	{"a byte taken out", func(r *rand.Rand, d []byte) []byte {
		at := r.IntN(len(d) - 1)
		return append(append([]byte{}, d[:at]...), d[at+1:]...)
	}, "chain"},
	{"a line taken out", func(r *rand.Rand, d []byte) []byte {
		return onLines(d, func(l [][]byte) [][]byte {
			at := r.IntN(len(l) - 1) // the last is another kind
			return append(append([][]byte{}, l[:at]...), l[at+1:]...)
		})
	}, "chain"},
	{"a line doubled", func(r *rand.Rand, d []byte) []byte {
		return onLines(d, func(l [][]byte) [][]byte {
			at := r.IntN(len(l) - 1)
			return append(append(append([][]byte{}, l[:at+1]...), l[at]), l[at+1:]...)
		})
	}, "chain"},
	{"two lines swapped", func(r *rand.Rand, d []byte) []byte {
		return onLines(d, func(l [][]byte) [][]byte {
			a, b := r.IntN(len(l)-1), r.IntN(len(l)-1)
			l[a], l[b] = l[b], l[a]
			return l
		})
	}, "chain"},
	{"cut off inside a line", func(r *rand.Rand, d []byte) []byte {
		at := r.IntN(len(d) - 1)
		if d[max(0, at-1)] == '\n' {
			at++
		}
		return d[:at]
	}, "chain"},
	{"last lines taken away", func(r *rand.Rand, d []byte) []byte {
		return onLines(d, func(l [][]byte) [][]byte { return l[:1+r.IntN(len(l)-1)] })
	}, "signature"},
	{"a value changed, all hashes made anew", func(r *rand.Rand, d []byte) []byte {
		lines := bytes.Count(d, []byte("\n"))
		at := r.IntN(lines)
		n := -1
		return rehashed(d, func(line string) string {
			if n++; n != at {
				return line
			}
			return spoilValue(r, line)
		})
	}, "signature"},
}

// spoilValue changes one letter or digit inside a line.
func spoilValue(r *rand.Rand, line string) string {
	for range 100 {
		at := r.IntN(len(line))
		if c := line[at]; c >= '0' && c <= '9' || c >= 'a' && c <= 'z' {
			to := byte("0123456789"[r.IntN(10)])
			if c >= 'a' {
				to = byte('a' + r.IntN(26))
			}
			return line[:at] + string(to) + line[at+1:]
		}
	}
	return line
}

// A thousand single changes to a finished, signed record. What verify can see by
// the chain and the replay it sees always; what was written anew with all its
// hashes, or only lost its end, is for the signature, which sees all of it. A
// record that lost its end is never called done.
func TestManyChangesToARecord(t *testing.T) {
	each := outside.Times(12, 100)
	path := finished(t, newStore(t), "stand 2")
	data := readFile(t, path)
	signature := signedWith(testkey.Sign(1, data, SignatureUse))
	if r := VerifyBytes(path, data, signature); !r.OK() || r.State != walk.IsDone {
		t.Fatalf("%v", r.Problems)
	}
	r := rand.New(rand.NewPCG(11, 3))
	var table strings.Builder
	for _, s := range spoilers {
		tried, seen, signed, stillDone := 0, 0, 0, 0
		for tried < each {
			changed := s.spoil(r, bytes.Clone(data))
			if bytes.Equal(changed, data) {
				continue
			}
			tried++
			alone := VerifyBytes(path, changed, nil)
			agrees(t, path, changed, alone)
			if !alone.OK() {
				seen++
			} else if alone.State == walk.IsDone {
				stillDone++
			}
			if !VerifyBytes(path, changed, signature).OK() {
				signed++
			}
			if s.sees == "chain" && alone.OK() {
				t.Errorf("%s: verify does not see it\n%s", s.kind, changed)
			}
		}
		if signed != each {
			t.Errorf("%s: the signature holds %d times of %d", s.kind, each-signed, each)
		}
		if s.kind == "last lines taken away" && stillDone > 0 {
			t.Errorf("%s: called done %d times", s.kind, stillDone)
		}
		fmt.Fprintf(&table, "%-40s tried %d: verify alone sees %d, with a signature %d; unseen and still done %d\n", s.kind, tried, seen, signed, stillDone)
	}
	t.Logf("\n%s", table.String())
}
