package record

import (
	"os"
	"path/filepath"
	"runtime"
)

// DefaultDir is where records live when nothing else is said:
// $XDG_DATA_HOME/evenpull/records, or the platform's own place.
func DefaultDir() (string, error) {
	home, err := os.UserHomeDir()
	if err != nil {
		home = ""
	}
	dir := defaultDir(runtime.GOOS, os.Getenv, home)
	if dir == "" {
		return "", &Error{What: "there is no home folder to keep records in", Remedy: "choose a folder with --records DIR", Err: err}
	}
	return dir, nil
}

// defaultDir is DefaultDir with everything it asks the system given; empty when
// there is no place. A relative $XDG_DATA_HOME is ignored, as the XDG base
// directory specification asks.
func defaultDir(goos string, getenv func(string) string, home string) string {
	base := getenv("XDG_DATA_HOME")
	switch {
	case filepath.IsAbs(base):
	case goos == "windows" && getenv("LocalAppData") != "":
		base = getenv("LocalAppData")
	case home == "":
		return ""
	case goos == "windows":
		base = filepath.Join(home, "AppData", "Local")
	case goos == "darwin" || goos == "ios":
		base = filepath.Join(home, "Library", "Application Support")
	default:
		base = filepath.Join(home, ".local", "share")
	}
	return filepath.Join(base, "evenpull", "records")
}
