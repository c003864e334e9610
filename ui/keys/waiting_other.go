//go:build !unix

package keys

import "os"

// waiting reports whether there is more to read at once, where that can be asked.
func waiting(*os.File) bool { return false }
