package record

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/procedures/walk"
)

// pictures begin as their kinds do; what follows is never looked at.
var pictures = map[string][]byte{
	"png":  []byte("\x89PNG\r\n\x1a\nrest"),
	"jpg":  []byte("\xff\xd8\xff\xe0rest"),
	"gif":  []byte("GIF89arest"),
	"webp": []byte("RIFF\x10\x00\x00\x00WEBPVP8 rest"),
}

// photographed is an event that names the picture in a file.
func photographed(t *testing.T, p *Pictures, path string) walk.Event {
	t.Helper()
	facts, err := p.Look(path)
	if err != nil {
		t.Fatal(err)
	}
	return walk.Event{Kind: walk.Pictured, Facts: facts}
}

func TestAPictureIsKnownByItsFirstBytesWhateverItIsCalled(t *testing.T) {
	for kind, data := range pictures {
		path := filepath.Join(t.TempDir(), "lobe.txt")
		writeFile(t, path, data)
		p, got, err := ReadPicture(path)
		if err != nil || p.Type != kind || p.Name != "lobe.txt" || !bytes.Equal(got, data) {
			t.Errorf("%s: %+v, %v", kind, p, err)
		}
		if e := (walk.Event{Kind: walk.Pictured, Facts: p.Facts()}); fmt.Sprint(walk.PhotoOf(e)) != fmt.Sprint(p, true) {
			t.Errorf("%s: an event gives %v", kind, fmt.Sprint(walk.PhotoOf(e)))
		}
	}
	long := filepath.Join(t.TempDir(), strings.Repeat("ä", 100)+".png")
	writeFile(t, long, pictures["png"])
	if p, _, err := ReadPicture(long); err != nil || len(p.Name) > 120 || !strings.HasPrefix(p.Name, "ää") {
		t.Errorf("%q, %v", p.Name, err)
	}
}

func TestWhatIsNoPictureIsOneClearError(t *testing.T) {
	dir := t.TempDir()
	for name, data := range map[string][]byte{"text.jpg": []byte("not a picture"), "empty.png": nil, "cut.webp": []byte("RIFF\x10\x00\x00\x00WEB"), "large.png": append(bytes.Clone(pictures["png"]), make([]byte, MaxPicture)...)} {
		writeFile(t, filepath.Join(dir, name), data)
	}
	for name, want := range map[string]string{
		"gone.jpg":  "there is no such file; give the path of a picture",
		"text.jpg":  "this is no PNG, JPEG, GIF or WebP picture; save it as one of these",
		"empty.png": "this is no PNG",
		"cut.webp":  "this is no PNG",
		"large.png": "this is larger than a picture may be (20 MiB); make it smaller",
		".":         "this is a folder; name a picture in it",
	} {
		_, _, err := ReadPicture(filepath.Join(dir, name))
		wantText(t, err, want)
	}
	_, _, err := ReadPicture("")
	wantText(t, err, "no picture is named")
	whole := filepath.Join(dir, "whole.png")
	writeFile(t, whole, append(bytes.Clone(pictures["png"]), make([]byte, MaxPicture-len(pictures["png"]))...))
	if _, _, err := ReadPicture(whole); err != nil {
		t.Errorf("a picture of 20 MiB: %v", err)
	}
}

func TestAPictureIsThereBeforeTheEventThatNamesItOnceAndForGood(t *testing.T) {
	s := newStore(t)
	from := filepath.Join(t.TempDir(), "lobe.jpg")
	writeFile(t, from, pictures["jpg"])
	album := s.Pictures()
	ev := photographed(t, album, from)
	p, _ := walk.PhotoOf(ev)
	written := 0
	write := album.Before(func(walk.Event) error {
		if data, err := Picture(s.Dir, p); err != nil || !bytes.Equal(data, pictures["jpg"]) {
			t.Errorf("when its event is written: %v", err)
		}
		written++
		return nil
	})
	writeFile(t, from, pictures["gif"]) // what was looked at is what is kept
	if err := write(ev); err != nil {
		t.Fatal(err)
	}
	if err := write(ev); err != nil || written != 2 {
		t.Fatalf("once more: %v, %d written", err, written)
	}
	if list, _ := os.ReadDir(filepath.Dir(PicturePath(s.Dir, p))); len(list) != 1 {
		t.Errorf("%d files are kept", len(list))
	}
	if ids, err := s.IDs(); err != nil || len(ids) > 0 {
		t.Errorf("the folder of pictures is taken for a record: %v, %v", ids, err)
	}

	writeFile(t, PicturePath(s.Dir, p), pictures["png"])
	_, err := Picture(s.Dir, p)
	wantText(t, err, "the picture lobe.jpg is changed")
	wantText(t, s.KeepPicture(p, pictures["jpg"]), "another file lies where this picture belongs, and it stays")
	if !bytes.Equal(readFile(t, PicturePath(s.Dir, p)), pictures["png"]) {
		t.Error("it was overwritten")
	}
	wantText(t, write(ev), "is changed")
	os.Remove(PicturePath(s.Dir, p))
	_, err = Picture(s.Dir, p)
	wantText(t, err, "the picture lobe.jpg is missing")
	wantText(t, s.KeepPicture(p, pictures["png"]), "these are not the bytes of this picture")
	if err := s.KeepPicture(p, pictures["jpg"]); err != nil {
		t.Error(err)
	}
	os.Remove(PicturePath(s.Dir, p))
	os.Symlink(from, PicturePath(s.Dir, p))
	wantText(t, s.KeepPicture(p, pictures["jpg"]), "and it stays")
}

// Whatever operation fails, nothing is told to be kept that a power cut can take.
func TestAPictureToldKeptIsKept(t *testing.T) {
	for fails := -1; ; fails++ {
		j, d, root := newJob(t, false)
		d.fails = fails
		from := filepath.Join(t.TempDir(), "lobe.jpg")
		writeFile(t, from, pictures["jpg"])
		album := j.store.Pictures()
		ev := photographed(t, album, from)
		write := album.Before(func(walk.Event) error { return nil })
		err := write(ev)
		for tries := 0; err != nil && tries < 3; tries++ {
			if !errors.Is(err, errTape) {
				t.Fatalf("operation %d: %v", fails, err)
			}
			err = write(ev)
		}
		if err != nil {
			t.Fatalf("operation %d: %v after %v", fails, err, d.ops)
		}
		p, _ := walk.PhotoOf(ev)
		d.cuts(true, func(names map[string]*inode, of *inode, content []byte) {
			to := filepath.Join(t.TempDir(), "after")
			if err := os.Mkdir(to, 0o700); err != nil {
				t.Fatal(err)
			}
			restore(t, root, to, names, of, content)
			if _, err := Picture(filepath.Join(to, strings.TrimPrefix(j.store.Dir, root)), p); err != nil {
				t.Fatalf("operation %d failed (%v): %v", fails, d.ops, err)
			}
		})
		if fails >= len(d.ops) {
			return
		}
	}
}

func TestALostPictureIsSaidAndTheRecordHolds(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "7")
	album := s.Pictures()
	live := walking(t, w)
	live.Append = album.Before(w.Append)
	for _, kind := range []string{"jpg", "png", "gif"} {
		from := filepath.Join(t.TempDir(), "lobe."+kind)
		writeFile(t, from, pictures[kind])
		if refusal, err := live.Do(walk.Command{Do: walk.Picture, Facts: photographed(t, album, from).Facts, Text: "scored"}); refusal != nil || err != nil {
			t.Fatal(refusal, err)
		}
	}
	closeWriter(t, w)
	r := Verify(w.Path)
	if !r.OK() || len(r.Notes) > 0 || r.PicturesKept() != 3 {
		t.Fatalf("%+v", r)
	}
	os.Remove(PicturePath(s.Dir, r.Pictures[0].Photo))
	writeFile(t, PicturePath(s.Dir, r.Pictures[1].Photo), []byte("else"))
	r = Verify(w.Path)
	if !r.OK() || !r.Chain.Whole() || r.PicturesKept() != 1 || len(r.Notes) != 2 || r.Pictures[0].Lost.What != "missing" || r.Pictures[1].Lost.What != "changed" {
		t.Fatalf("%+v", r)
	}
	wantText(t, errors.New(r.Notes[0]), "the picture lobe.jpg is missing: ")
	wantText(t, errors.New(r.Notes[0]), "; the record that names it holds; ")
}
