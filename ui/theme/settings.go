package theme

import "strings"

// Settings is what the environment says about the terminal. Nothing is ever
// asked of the terminal itself.
type Settings struct {
	Dark   bool // light text on a dark background
	Colour bool // hues may be used; emphasis (bold, reverse) always may
	ASCII  bool // 7-bit characters only
}

// FromEnv reads the settings through getenv, which returns "" for a name that
// isn't set:
//
//	EVENPULL_BACKGROUND  light or dark; anything else is as if not set
//	COLORFGBG            "15;0": the last number is the background; set by some terminals
//	NO_COLOR             not empty: no hues (no-color.org)
//	CLICOLOR             0: no hues, unless CLICOLOR_FORCE says otherwise
//	EVENPULL_ASCII       1: 7-bit characters only; 0: never that
//	LC_ALL LC_CTYPE LANG the first one set names the character set
//	TERM                 dumb: no hues; linux, vt*: 7-bit characters
func FromEnv(getenv func(string) string) Settings {
	return Settings{
		Dark:   darkBackground(getenv("EVENPULL_BACKGROUND"), getenv("COLORFGBG")),
		Colour: wantsColour(getenv),
		ASCII:  wantsASCII(getenv),
	}
}

// darkBackground says dark when in doubt: most terminals are.
func darkBackground(own, colorFgBg string) bool {
	switch strings.ToLower(strings.TrimSpace(own)) {
	case "light":
		return false
	case "dark":
		return true
	}
	// "foreground;background", with a third field between them in rxvt. 7 and
	// 9 to 15 are the light ones of the sixteen colours; 8 is dark grey.
	switch colorFgBg[strings.LastIndexByte(colorFgBg, ';')+1:] {
	case "7", "9", "10", "11", "12", "13", "14", "15":
		return false
	}
	return true
}

func wantsColour(getenv func(string) string) bool {
	if getenv("NO_COLOR") != "" || getenv("TERM") == "dumb" {
		return false
	}
	forced := getenv("CLICOLOR_FORCE")
	return getenv("CLICOLOR") != "0" || (forced != "" && forced != "0")
}

// wantsASCII trusts EVENPULL_ASCII first, then kinds of terminal known to
// have few glyphs, then the locale. With no locale named at all it takes
// UTF-8: that is what a terminal reached over a bare connection speaks.
func wantsASCII(getenv func(string) string) bool {
	switch getenv("EVENPULL_ASCII") {
	case "":
	case "0":
		return false
	default:
		return true
	}
	term := getenv("TERM")
	if term == "dumb" || term == "linux" || strings.HasPrefix(term, "vt") {
		return true
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := strings.ToLower(getenv(name)); locale != "" {
			return !strings.Contains(locale, "utf-8") && !strings.Contains(locale, "utf8")
		}
	}
	return false
}
