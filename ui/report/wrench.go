package report

// Wrench is one that the record names, with the stages it was used on.
type Wrench struct {
	Name   string
	Stages int
}

// Wrenches lists the wrenches of the confirmed stages, in order of first fastener.
func (s Sheet) Wrenches() []Wrench {
	var list []Wrench
	place := map[string]int{}
	for _, f := range s.Fasteners {
		for _, st := range f.Stages {
			if st.Wrench == "" {
				continue
			}
			i, known := place[st.Wrench]
			if !known {
				i = len(list)
				place[st.Wrench] = i
				list = append(list, Wrench{Name: st.Wrench})
			}
			list[i].Stages++
		}
	}
	return list
}
