/// Contractions -> the chest ECG as a wave of Gaussian bumps, in mV.
///
/// McSharry et al. 2003 (IEEE TBME 50:289) let z follow z' = -sum a_i dtheta_i exp(-dtheta_i^2 / 2 b_i^2) - (z - z0) around the cycle. Without the last
/// term, which only ties z to its baseline with a time constant of 1 s, the equation integrates to a sum of bells of height a_i b_i^2 / omega at
/// the angles theta_i with SD b_i: this is what is drawn here, each bell in seconds, R scaled to `EcgSensor::r_mv`.
///
/// At 60 beats/min the bells are those of the paper (one turn a second). At other rates: QRS keeps its width; T's centre and width go with the square
/// root of the interval (Bazett 1920); P's with its fourth root, which takes the centre of P from 167 ms before R at 60 to 127 ms at
/// 180 beats/min (ours). The interval is that of the rate course: repolarisation follows the rate slowly, not from beat to beat.
///
/// Ventricular beats (ours, after their textbook look): no P, a tall R of 30 ms SD, a broad S, an inverted T. Supraventricular beats: a
/// flatter P, the rest as usual.
#pragma once

#include <vector>

#include "beat_times.hpp"
#include "bumps.hpp"

namespace pulsewright::simulation {

[[nodiscard]] BumpWave ecg_wave(const std::vector<Contraction>& contractions, const Timeline& timeline,
                                const EcgSensor& sensor);

/// R peak of a contraction on the wave: its local maximum.
[[nodiscard]] double r_peak(const BumpWave& wave, const Contraction& contraction);

}  // namespace pulsewright::simulation
