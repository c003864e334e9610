package clamp

import (
	"fmt"

	"evenpull/spec/bolt"
)

// UsualShare is the share of proof load aimed at where nothing else is said: 75 % for bolts that are
// used again (Shigley, Mechanical Engineering Design, from memory).
const UsualShare = 0.75

// Aim is a preload to be reached, and the torque for it: an estimate, for where the sheet gives no figure.
type Aim struct {
	PreloadN     float64 `json:"preload_n"`
	ShareOfProof float64 `json:"share_of_proof"`
	TorqueNm     float64 `json:"torque_nm"`      // at the nominal friction
	TorqueLowNm  float64 `json:"torque_low_nm"`  // on the slickest threads to expect
	TorqueHighNm float64 `json:"torque_high_nm"` // on the roughest
}

// ProofLoadN is what the bolt bears without lasting stretch, in newtons: the proof stress of its class over its
// weakest section. Torsion from tightening is not in it.
func (j Joint) ProofLoadN() (float64, error) {
	m, err := j.model()
	if err != nil {
		return 0, err
	}
	proof, err := bolt.ProofLoad(m.Thread, m.Class, m.BoreMM)
	if err != nil {
		return 0, err
	}
	thread := m.sections[0].AreaMM2()
	least := thread
	for _, s := range m.sections {
		least = min(least, s.AreaMM2())
	}
	return proof * least / thread, nil
}

// AimAt gives the torque for a preload in newtons, with what it would be at the ends of the
// friction to expect. A preload past the bolt's yield is refused.
func (j Joint) AimAt(preloadN float64) (Aim, error) {
	m, err := j.model()
	if err != nil {
		return Aim{}, err
	}
	if err := positive("preload", preloadN, "N"); err != nil {
		return Aim{}, err
	}
	proof, err := j.ProofLoadN()
	if err != nil {
		return Aim{}, err
	}
	if yield := m.yieldN(); preloadN > yield {
		return Aim{}, fmt.Errorf("preload of %s kN is past yield: tightened, this bolt bears about %s kN; aim lower, or take a stronger one", Digits(preloadN/1000, 3), Digits(yield/1000, 3))
	}
	at := func(muThread, muHead float64) float64 {
		return preloadN*m.leverMM(muThread, muHead)/1000 + m.PrevailingNm
	}
	return Aim{
		PreloadN: preloadN, ShareOfProof: preloadN / proof,
		TorqueNm:    at(m.Friction.Nominal, m.HeadFriction.Nominal),
		TorqueLowNm: at(m.Friction.Low, m.HeadFriction.Low), TorqueHighNm: at(m.Friction.High, m.HeadFriction.High),
	}, nil
}

// AimAtShare is AimAt a share of the proof load, over 0 and up to 1.
func (j Joint) AimAtShare(share float64) (Aim, error) {
	if !(share > 0 && share <= 1) {
		return Aim{}, fmt.Errorf("share of proof load is %v %%; give one over 0 and up to 100 %%, such as 75 %%", 100*share)
	}
	proof, err := j.ProofLoadN()
	if err != nil {
		return Aim{}, err
	}
	return j.AimAt(share * proof)
}
