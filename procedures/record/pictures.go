package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// pictureFolder is where pictures are kept, in the folder of records. A picture
// is called by its bytes, so that the same one is there once and no other can
// come under its name.
const pictureFolder = "pictures"

// MaxPicture is the most bytes a picture may have.
const MaxPicture = 20 << 20

// pictureType tells a picture by its first bytes; "" is none. They are given by
// the PNG specification (5.2), ITU-T T.81 (B.1.1.3), the GIF89a specification
// (17) and RFC 9649 (2.5).
func pictureType(data []byte) string {
	for _, known := range []struct{ begins, name string }{{"\x89PNG\r\n\x1a\n", "png"}, {"\xff\xd8\xff", "jpg"}, {"GIF87a", "gif"}, {"GIF89a", "gif"}} {
		if bytes.HasPrefix(data, []byte(known.begins)) {
			return known.name
		}
	}
	if len(data) > 12 && string(data[:4]) == "RIFF" && string(data[8:12]) == "WEBP" {
		return "webp"
	}
	return ""
}

// ReadPicture reads a picture from where a person has it: a path, from the home
// folder when it begins with ~/.
func ReadPicture(path string) (walk.Photo, []byte, error) {
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			path = filepath.Join(home, rest)
		}
	}
	data, err := readBounded(func() (*os.File, error) { return os.OpenFile(path, os.O_RDONLY|openAtOnce, 0) })
	if err == nil && len(data) > MaxPicture {
		err = errTooLarge
	}
	if err != nil {
		return walk.Photo{}, nil, pictureProblem(path, err)
	}
	sum := sha256.Sum256(data)
	p := walk.Photo{Name: shortName(filepath.Base(path)), SHA256: hex.EncodeToString(sum[:]), Type: pictureType(data)}
	if p.Type == "" {
		return p, nil, pictureProblem(path, errNoPicture)
	}
	return p, data, nil
}

// shortName is what a picture is called in a record.
func shortName(name string) string {
	const most = 120
	if name = spec.Printable(name); len(name) > most {
		name = strings.ToValidUTF8(name[:most], "")
	}
	return name
}

var (
	errTooLarge  = errors.New("too large")
	errNoPicture = errors.New("no picture")
	errFolder    = errors.New("a folder")
	errOdd       = errors.New("no ordinary file")
)

// readBounded reads one byte more than a picture may have.
func readBounded(open func() (*os.File, error)) ([]byte, error) {
	f, err := open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	switch info, err := f.Stat(); {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errFolder
	case !info.Mode().IsRegular():
		return nil, errOdd
	}
	return io.ReadAll(io.LimitReader(f, MaxPicture+1))
}

// pictureProblem says what is wrong with a picture a person named.
func pictureProblem(path string, err error) error {
	e := &Error{Path: spec.Printable(path), Err: err, Remedy: "give the path of a picture"}
	switch {
	case path == "":
		e.What = "no picture is named"
	case errors.Is(err, fs.ErrNotExist):
		e.What = "there is no such file"
	case errors.Is(err, errFolder):
		e.What, e.Remedy = "this is a folder", "name a picture in it"
	case errors.Is(err, errOdd):
		e.What = "this is no ordinary file"
	case errors.Is(err, fs.ErrPermission):
		e.What, e.Remedy = "it cannot be read: no permission", "change its permissions, or copy it elsewhere"
	case errors.Is(err, errTooLarge):
		e.What, e.Remedy = fmt.Sprintf("this is larger than a picture may be (%d MiB)", MaxPicture>>20), "make it smaller"
	case errors.Is(err, errNoPicture):
		e.What, e.Remedy = "this is no PNG, JPEG, GIF or WebP picture", "save it as one of these"
	default:
		e.What = "it cannot be read: " + reason(err)
	}
	return e
}

// PicturePath is where a picture is kept beside the records of a folder.
func PicturePath(dir string, p walk.Photo) string {
	return filepath.Join(dir, pictureFolder, p.File())
}

// Picture gives the bytes of a picture that is kept beside the records of a
// folder, or says that they are missing or changed.
func Picture(dir string, p walk.Photo) ([]byte, error) {
	path := PicturePath(dir, p)
	data, err := readBounded(func() (*os.File, error) { return openFile(path, os.O_RDONLY|openAtOnce, 0) })
	lost := &PictureError{Photo: p, Path: path, What: "missing", Err: err}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, lost
	case err != nil:
		lost.What = "not to be read (" + reason(err) + ")"
		return nil, lost
	}
	if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != p.SHA256 || pictureType(data) != p.Type {
		lost.What = "changed"
		return nil, lost
	}
	return data, nil
}

// HasPicture reports whether a file lies where a picture is kept, whatever is in it.
func HasPicture(dir string, p walk.Photo) bool {
	_, err := os.Lstat(PicturePath(dir, p))
	return err == nil
}

// PictureError says that a picture is not as it was kept. The record that names
// it is as good as before.
type PictureError struct {
	Photo walk.Photo
	Path  string
	What  string // missing, changed, or why it cannot be read
	Err   error
}

// Error names the picture, its file and the way out.
func (e *PictureError) Error() string {
	return fmt.Sprintf("the picture %s is %s: %s; the record that names it holds; put the file back from a backup, or from a bundle", e.Photo.Name, e.What, spec.Printable(e.Path))
}

// Unwrap gives what the file system said.
func (e *PictureError) Unwrap() error { return e.Err }

// KeepPicture copies a picture beside the records, durably, before anything names
// it. The same picture is kept once, and no file is ever overwritten.
func (s *Store) KeepPicture(p walk.Photo, data []byte) error {
	if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != p.SHA256 || pictureType(data) != p.Type {
		return &Error{Path: p.Name, What: "these are not the bytes of this picture", Remedy: "give it once more"}
	}
	path := PicturePath(s.Dir, p)
	var lost *PictureError
	switch _, err := Picture(s.Dir, p); {
	case err == nil: // the folder may not have been synced when it was put there
		if err := s.disk.syncDir(filepath.Dir(path)); err != nil {
			return explain(path, "keep the picture", err)
		}
		return nil
	case !errors.As(err, &lost) || !errors.Is(lost.Err, fs.ErrNotExist):
		return &Error{Path: spec.Printable(path), What: "another file lies where this picture belongs, and it stays", Remedy: "move it away and try again", Err: err}
	}
	if err := s.makeDir(); err != nil {
		return err
	}
	if err := makeDir(s.disk, filepath.Dir(path)); err != nil {
		return explain(filepath.Dir(path), "make the folder of pictures", err)
	}
	if err := writeWhole(s.disk, path, data); err != nil {
		return explain(path, "keep the picture", err)
	}
	return nil
}

// Pictures copies what events name: a picture is looked at when a person names
// its file, and kept before the event that asks for it is written.
type Pictures struct {
	store *Store
	mutex sync.Mutex
	seen  map[string][]byte // by hash, until kept
}

// Pictures begins with none.
func (s *Store) Pictures() *Pictures { return &Pictures{store: s, seen: map[string][]byte{}} }

// Look reads a picture where a person has it, and gives what an event keeps of it.
func (p *Pictures) Look(path string) (map[string]string, error) {
	photo, data, err := ReadPicture(path)
	if err != nil {
		return nil, err
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	p.seen = map[string][]byte{photo.SHA256: data} // the one before was given up
	return photo.Facts(), nil
}

// Before gives an append that keeps the picture an event names before the event.
func (p *Pictures) Before(write func(walk.Event) error) func(walk.Event) error {
	return func(e walk.Event) error {
		if err := p.keep(e); err != nil {
			return err
		}
		return write(e)
	}
}

func (p *Pictures) keep(e walk.Event) error {
	photo, ok := walk.PhotoOf(e)
	if !ok {
		return nil
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	data, ok := p.seen[photo.SHA256]
	if !ok { // kept already, when its event could not be written
		_, err := Picture(p.store.Dir, photo)
		return err
	}
	if err := p.store.KeepPicture(photo, data); err != nil {
		return err
	}
	delete(p.seen, photo.SHA256)
	return nil
}
