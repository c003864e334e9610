package clamp

import "fmt"

// Assess estimates what a torque on the wrench, in N·m, does to the joint. Its errors say
// what to give instead.
func (j Joint) Assess(torqueNm float64) (Assessment, error) {
	m, err := j.model()
	if err != nil {
		return Assessment{}, err
	}
	if err := positive("torque", torqueNm, "N·m"); err != nil {
		return Assessment{}, err
	}
	net := torqueNm - m.PrevailingNm
	if net <= 0 {
		return Assessment{}, fmt.Errorf("torque of %v N·m is all taken by the prevailing torque of %v N·m; give the target with the drag added", torqueNm, m.PrevailingNm)
	}
	lever := m.nominalLeverMM()
	preload := net * 1000 / lever
	band := m.band(net, preload)
	stress, where := m.tightenedMPa(preload)
	yield := m.yieldN()
	if preload > yield {
		m.say("past yield: the formula no longer holds, the bolt stretches for good and holds about %.3g kN", yield/1000)
	}
	return Assessment{
		TorqueNm:      torqueNm,
		PreloadN:      preload,
		PreloadLowN:   band.LowN,
		PreloadHighN:  band.HighN,
		Utilisation:   stress / m.yieldMPa,
		YieldPreloadN: yield,
		YieldTorqueNm: yield*lever/1000 + m.PrevailingNm,
		Torque90Nm:    m.preloadAtN(0.9, m.Friction.Nominal)*lever/1000 + m.PrevailingNm,
		WeakSection:   where,
		NutFactor:     lever / m.Thread.DiameterMM,
		Method:        m.method(),
		Assumptions:   m.said,
	}, nil
}

// Torque is the wrench's figure in N·m for a preload in newtons: Assess the other way round.
func (j Joint) Torque(preloadN float64) (torqueNm float64, err error) {
	m, err := j.model()
	if err != nil {
		return 0, err
	}
	if err := positive("preload", preloadN, "N"); err != nil {
		return 0, err
	}
	return preloadN*m.nominalLeverMM()/1000 + m.PrevailingNm, nil
}

// PreloadAt is the preload in newtons at which the bolt reaches a share of its yield
// strength under tension and torsion together; 0.9 is the usual limit of VDI 2230.
func (j Joint) PreloadAt(share float64) (preloadN float64, err error) {
	m, err := j.model()
	if err != nil {
		return 0, err
	}
	if err := positive("share of yield", share, ""); err != nil {
		return 0, err
	}
	preloadN = m.preloadAtN(share, m.Friction.Nominal)
	if preloadN == 0 {
		return 0, fmt.Errorf("prevailing torque of %.4g N·m alone takes the bolt past %.3g of its yield; give a higher share", m.PrevailingNm, share)
	}
	return preloadN, nil
}
