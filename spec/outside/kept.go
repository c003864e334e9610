//go:build !outside

package outside

// Asking says that programs are asked now, rather than what they said read.
const Asking = false
