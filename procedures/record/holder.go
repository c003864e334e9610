package record

import "os"

// HeldBy says who has a record open for writing, without getting in anybody's
// way: it reads what the holder wrote beside the record and takes no lock. A
// holder on this machine that is gone does not count; of one on another
// machine, sharing the folder, that cannot be told.
func (s *Store) HeldBy(id string) (Holder, bool) {
	f, err := openFile(s.lockPath(id), os.O_RDONLY|openAtOnce, 0)
	if err != nil {
		return Holder{}, false
	}
	defer f.Close()
	h := readHolder(f)
	if h.PID <= 0 {
		return Holder{}, false
	}
	if host, err := os.Hostname(); err == nil && host == h.Host && !alive(h.PID) {
		return Holder{}, false
	}
	return h, true
}
