// Package voice is what a walk can be heard by: a speech program of the person's
// own, and the terminal's bell. Neither ever keeps anybody waiting: what is to be
// heard is left where a goroutine of its own takes it, and the newest wins.
package voice

// newest holds the one thing that is to be done next. What is put there while
// another still waits takes its place.
type newest[T any] chan T

func newNewest[T any]() newest[T] { return make(newest[T], 1) }

// put never blocks, whatever the one who takes is doing.
func (n newest[T]) put(v T) {
	for {
		select {
		case n <- v:
			return
		default:
		}
		select {
		case <-n: // overtaken
		default:
		}
	}
}
