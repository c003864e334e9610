package keys

// Move takes the keys that move along a list, the same on every list: up or k, down
// or j, home or g, end or G. It gives the new place among n, and whether the key was
// one of them.
func Move(key string, at, n int) (int, bool) {
	switch key {
	case "up", "k":
		at--
	case "down", "j":
		at++
	case "home", "g":
		at = 0
	case "end", "G":
		at = n - 1
	default:
		return at, false
	}
	return max(0, min(at, n-1)), true
}
