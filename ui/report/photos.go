package report

import (
	"errors"
	"fmt"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/ui/markup"
)

// Photo is a picture that a walk names.
type Photo struct {
	Seq     int       `json:"seq"`
	At      time.Time `json:"at"`
	Name    string    `json:"name"` // of the file it was copied from
	SHA256  string    `json:"sha256"`
	Type    string    `json:"type"`           // png, jpg, gif or webp
	Caption string    `json:"caption"`        // empty: none
	Of      string    `json:"of,omitempty"`   // what it shows; empty: no single thing
	State   string    `json:"state"`          // kept, missing, changed, or why it cannot be read
	Told    bool      `json:"told,omitempty"` // taken before this walk, of what it was brought

	of   walk.Event
	data []byte
}

// mostEmbedded bounds the bytes of the pictures that one document holds.
const mostEmbedded = 64 << 20

// photos lists the pictures that were not taken back. One that is lost is said
// among the notes: the record is not the worse for it.
func (b *builder) photos() {
	used := 0
	for _, e := range b.s.Photos() {
		p, _ := walk.PhotoOf(e)
		photo, note := LookAt(p, b.in.Picture)
		photo.Seq, photo.At, photo.Caption, photo.Of, photo.of = e.Seq, e.At, clean(e.Text), clean(b.s.TopicText(e)), e
		if note != "" {
			b.sheet.Notes = append(b.sheet.Notes, note)
		}
		used = photo.within(used)
		b.sheet.Photos = append(b.sheet.Photos, photo)
	}
	b.told(used)
}

// told lists the pictures of before that the walk was brought, each once.
func (b *builder) told(used int) {
	seen := map[string]bool{}
	for _, e := range b.s.Events {
		for _, t := range walk.PhotosTold(e) {
			if seen[t.File()] {
				continue
			}
			seen[t.File()] = true
			photo, note := LookAt(t.Photo, b.in.Picture)
			photo.Seq, photo.At, photo.Caption, photo.Of, photo.Told = e.Seq, t.At, clean(t.Caption), clean(t.Of), true
			if note != "" {
				b.sheet.Notes = append(b.sheet.Notes, note)
			}
			used = photo.within(used)
			b.sheet.Photos = append(b.sheet.Photos, photo)
		}
	}
}

// LookAt is a picture with its bytes, or with what is wrong with its file; get nil:
// nobody looks. A note says so where a file is lost.
func LookAt(p walk.Photo, get func(walk.Photo) ([]byte, error)) (photo Photo, note string) {
	photo = Photo{Name: clean(p.Name), SHA256: p.SHA256, Type: p.Type, State: "not looked for"}
	if get == nil {
		return photo, ""
	}
	data, err := get(p)
	var lost *record.PictureError
	switch {
	case errors.As(err, &lost):
		photo.State, note = clean(lost.What), clean(lost.Error())
	case err != nil:
		photo.State = clean(err.Error())
	default:
		photo.State, photo.data = "kept", data
	}
	return photo, note
}

// within leaves the picture itself off where there is no room for it, and counts what
// is taken up.
func (p *Photo) within(used int) int {
	if used+len(p.data) > mostEmbedded {
		p.data = nil
	}
	return used + len(p.data)
}

// Text says in one line what it shows.
func (p Photo) Text() string {
	text := walk.Photo{Name: p.Name}.Text(p.Caption)
	if p.Of != "" {
		text += ", of " + p.Of
	}
	return text
}

// Line is Text with the hash, and what is wrong with the file.
func (p Photo) Line() string {
	text := fmt.Sprintf("%s; SHA-256 %s", p.Text(), p.SHA256)
	if p.State != "kept" {
		text += "; the picture is " + p.State
	}
	return text
}

// picture is the photo itself, for a page; false when it is not at hand.
func (p Photo) picture() (markup.Picture, bool) { return markup.PictureOf(p.Type, p.data) }

// Absent says why there is no picture on the page.
func (p Photo) Absent() string {
	if p.State == "kept" {
		return "not on this page, which holds 64 MiB of pictures; it is kept beside the record"
	}
	return "the picture is " + p.State + "; the record holds"
}

func (s Sheet) photoBlock(title string) block {
	b := block{title: title}
	for _, p := range s.Photos {
		b.item(p.At.Format("2006-01-02 15:04  "), p.Line())
	}
	return b
}

// photosOn names, for a row of a table, the photos of a fastener; in the first row
// also those that are of none.
func (s Sheet) photosOn(fastener string, first bool) string {
	text := ""
	for _, p := range s.Photos {
		if p.of.Fastener == fastener || first && p.of.Fastener == "" {
			if text != "" {
				text += "; "
			}
			text += p.Name + " " + p.SHA256
		}
	}
	return text
}
