package record

import (
	"bytes"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Filter picks records. The zero value picks all; a record has to meet all that
// is asked. What cannot be read is always picked: nobody knows what it holds.
type Filter struct {
	Engine    string    // tag
	Procedure string    // part of the procedure's name or file, in any case of letters
	Since     time.Time // started then or later
	Before    time.Time // started earlier
	Word      string    // somewhere in the record but its procedure's text: small, capital or as it is written
	State     State
	Newest    int // at most so many; 0: all
}

// headOnly reports whether there is something to ask of a header alone.
func (f Filter) headOnly() bool {
	return f.Newest > 0 || f.Engine != "" || f.Procedure != "" || !f.Since.IsZero() || !f.Before.IsZero()
}

func (f Filter) takes(h Header) bool {
	contains := func(text string) bool { return strings.Contains(strings.ToLower(text), strings.ToLower(f.Procedure)) }
	return (f.Engine == "" || SameTag(h.Engine, f.Engine)) &&
		(f.Procedure == "" || contains(h.Procedure) || contains(h.Source)) &&
		(f.Since.IsZero() || !h.Started.Before(f.Since)) &&
		(f.Before.IsZero() || h.Started.Before(f.Before))
}

// Search sums up the records a filter picks, in the order of List. What a
// header tells is asked first, from the first bytes of each file; only what is
// left is read whole and replayed.
func (s *Store) Search(f Filter) ([]Summary, error) { return s.search(f, nil) }

// Recall is Search for a list to look at: a record that has not changed since this
// program last replayed it is not replayed again. What was said of it then lies in a
// folder of the person's cache; an empty name is none.
func (s *Store) Recall(cache string, f Filter) ([]Summary, error) {
	return s.search(f, openMemo(cache))
}

func (s *Store) search(f Filter, memo *memo) ([]Summary, error) {
	ids, err := s.ids()
	if err != nil {
		return nil, err
	}
	all := make(map[string]bool, len(ids))
	for _, id := range ids {
		all[id] = true
	}
	if len(ids) < memoWorth {
		memo = nil
	}
	everything := ids
	if f.headOnly() {
		ids = s.byHeads(ids, f)
	}
	word := newWord(f.Word)
	list := make([]*Summary, len(ids)) // nil: not picked
	var courses courses
	inParallel(len(ids), func() func(int) {
		l := &lister{store: s, courses: &courses, memo: memo, word: word}
		return func(i int) {
			sum := l.summarise(ids[i])
			if sum == nil {
				return
			}
			sum.markCopy(all)
			if f.State == "" || sum.State == f.State || sum.State == StateBroken && sum.Started.IsZero() {
				list[i] = sum
			}
		}
	})
	memo.write(everything)
	picked := slices.DeleteFunc(list, func(sum *Summary) bool { return sum == nil })
	slices.SortStableFunc(picked, func(x, y *Summary) int { return y.begun().Compare(x.begun()) })
	if f.Newest > 0 && len(picked) > f.Newest {
		picked = picked[:f.Newest]
	}
	kept := make([]Summary, len(picked))
	for i, sum := range picked {
		kept[i] = *sum
	}
	return kept, nil
}

// markCopy says of a record that lies beside the one it was copied from that it
// is no second walk: a tool that keeps folders alike makes such a copy when two
// machines wrote the same record.
func (sum *Summary) markCopy(all map[string]bool) {
	if sum.began == "" || sum.began == sum.ID || !all[sum.began] {
		return
	}
	sum.CopyOf, sum.State = sum.began, StateBroken
	sum.Problem = "it is a copy of " + sum.began + " that went its own way; compare the two, keep the one that was really walked and take the other out of the folder"
}

// byHeads keeps the records whose headers meet the filter, and those it cannot
// read. When only the newest are wanted and nothing else has to be known of them,
// no others are kept.
func (s *Store) byHeads(ids []string, f Filter) []string {
	heads := make([]*Header, len(ids)) // nil: not taken
	inParallel(len(ids), func() func(int) {
		buf := make([]byte, headBytes)
		return func(i int) {
			h, err := readHead(s.Path(ids[i]), buf)
			if err != nil {
				h = Header{}
			}
			if err != nil || f.takes(h) {
				heads[i] = &h
			}
		}
	})
	var kept []int
	for i, h := range heads {
		if h != nil {
			kept = append(kept, i)
		}
	}
	if f.Newest > 0 && f.Word == "" && f.State == "" && len(kept) > f.Newest {
		sort.SliceStable(kept, func(a, b int) bool {
			x, y := heads[kept[a]], heads[kept[b]]
			return x.unread() || !y.unread() && Order(x.Started, x.After).After(Order(y.Started, y.After))
		})
		kept = kept[:f.Newest]
		sort.Ints(kept) // back to the order of ids, which a stable sort by date builds on
	}
	names := make([]string, len(kept))
	for i, k := range kept {
		names[i] = ids[k]
	}
	return names
}

// unread reports a header that could not be read.
func (h *Header) unread() bool { return h.Format == 0 }

// headBytes is enough for a header without its text: id, names, tag, hash, times.
const headBytes = 2 << 10

// readHead reads the header of a record without its procedure's text.
func readHead(path string, buf []byte) (Header, error) {
	file, err := openToRead(path)
	if err != nil {
		return Header{}, err
	}
	defer file.close()
	start, err := readFull(file, buf[:headBytes])
	if err != nil {
		return Header{}, err
	}
	if at := bytes.Index(start, []byte(textKey)); at > 0 && start[0] == '{' {
		if h, ok := glance(start[:at]); ok {
			return h, nil
		}
		h, _, err := decodeHeaderHead(append(start[:at:at], `,"text":""}`...))
		return h, err
	}
	whole, err := Read(path) // written by another program, or a very long name
	if err != nil {
		return Header{}, err
	}
	return whole.Header, nil
}

// glance takes from a header, as Create writes it, what a filter asks: names, tag
// and times. In JSON text a bare quote cannot stand inside a string, so that the
// first place of a key is the field itself. ok is false for anything out of the
// ordinary.
func glance(head []byte) (h Header, ok bool) {
	if !bytes.HasPrefix(head, []byte(`{"evenpull":1,`)) || bytes.IndexByte(head, '\\') >= 0 {
		return h, false
	}
	ok = true
	field := func(key string) string {
		_, rest, found := bytes.Cut(head, []byte(`,"`+key+`":"`))
		value, _, ended := bytes.Cut(rest, []byte(`"`))
		ok = ok && found && ended
		return string(value)
	}
	h.Format, h.ID, h.Procedure, h.Source, h.Engine = FormatVersion, field("id"), field("procedure"), field("source"), field("engine")
	var err error
	h.Started, err = time.Parse(time.RFC3339Nano, field("started"))
	if ok && bytes.Contains(head, []byte(`,"after":`)) {
		var late error
		h.After, late = time.Parse(time.RFC3339Nano, field("after"))
		ok = late == nil
	}
	ok = ok && err == nil && rulesKnown(head)
	for _, text := range []*string{&h.ID, &h.Procedure, &h.Source, &h.Engine} {
		*text = spec.Printable(*text)
	}
	return h, ok
}

// rulesKnown reports whether the walk can be judged here.
func rulesKnown(head []byte) bool {
	_, rest, found := bytes.Cut(head, []byte(`,"rules":`))
	if !found {
		return true
	}
	rules, err := strconv.Atoi(string(rest[:len(rest)-len(bytes.TrimLeft(rest, "0123456789"))]))
	return err == nil && rules <= walk.Rules
}

// Tags gives every engine tag there is, by the headers alone, sorted; one that
// was written in several ways is given once.
func (s *Store) Tags() ([]string, error) {
	var paths []string
	for _, kind := range []struct {
		ending string
		path   func(id string) string
	}{{recordEnding, s.Path}, {ledgerEnding, s.ledgerPath}} {
		ids, err := s.names(kind.ending)
		if err != nil {
			return nil, err
		}
		for _, id := range ids {
			paths = append(paths, kind.path(id))
		}
	}
	tags := make([]string, len(paths))
	inParallel(len(paths), func() func(int) {
		buf := make([]byte, headBytes)
		return func(i int) {
			if h, err := readHead(paths[i], buf); err == nil {
				tags[i] = h.Engine
			}
		}
	})
	sort.Strings(tags)
	seen := map[string]bool{"": true}
	return slices.DeleteFunc(tags, func(tag string) bool {
		key := TagKey(tag)
		defer func() { seen[key] = true }()
		return seen[key]
	}), nil
}
