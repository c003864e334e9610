package words

// What a step is called that is no stage, the same on the stand, in lines of text and to
// the ear. What a stage is called says Act.
const (
	SlackenIt = "slacken it fully, then it starts again"
	Stripped  = "the thread in the case is stripped"
	GoesOn    = "goes on now"
	ComesOff  = "comes off now"
	DoneAbout = "what was done about it"
	WaitOver  = "the wait is over"
	PastWork  = "sealant past its work time"
	TooLate   = "too late after the heat"
	Reheat    = "take the heat back, heat it again"
	Afresh    = "open it, clean it, seal it afresh"
	LeftHand  = "left-hand thread"
	Unsourced = "unsourced figure"
)
