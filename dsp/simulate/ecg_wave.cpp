#include "ecg_wave.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "elementary/elementary.hpp"

namespace pulsewright::simulation {

namespace {

/// How a bell's place and width follow the interval.
enum class Follows { nothing, fourth_root, square_root };

struct Bell {
  double centre;  ///< s after the R wave at 60 beats/min
  double sd;      ///< s at 60 beats/min
  double height;  ///< of the R wave's
  Follows follows;
};

/// From the angle, a and b of McSharry et al. 2003, table 1 (a turn is one second at 60 beats/min).
constexpr Bell from_paper(double angle, double a, double b, Follows follows) {
  constexpr double r_area = 30.0 * 0.1 * 0.1;
  return {angle / (2.0 * std::numbers::pi), b / (2.0 * std::numbers::pi), a * b * b / r_area, follows};
}

constexpr std::array<Bell, 5> sinus_beat{from_paper(-std::numbers::pi / 3.0, 1.2, 0.25, Follows::fourth_root),
                                         from_paper(-std::numbers::pi / 12.0, -5.0, 0.1, Follows::nothing),
                                         from_paper(0.0, 30.0, 0.1, Follows::nothing),
                                         from_paper(std::numbers::pi / 12.0, -7.5, 0.1, Follows::nothing),
                                         from_paper(std::numbers::pi / 2.0, 0.75, 0.4, Follows::square_root)};

/// Ours: QRS of about 160 ms, T against the QRS.
constexpr std::array<Bell, 3> ventricular_beat{Bell{0.0, 0.030, 1.35, Follows::nothing},
                                               Bell{0.085, 0.034, -0.55, Follows::nothing},
                                               Bell{0.290, 0.065, -0.40, Follows::square_root}};

/// Height of an ectopic P wave (ours).
constexpr double ectopic_p = 0.5;

double stretch(Follows follows, double interval) {
  if (follows == Follows::nothing) return 1.0;
  const double root = std::sqrt(interval);
  return follows == Follows::square_root ? root : std::sqrt(root);
}

}  // namespace

BumpWave ecg_wave(const std::vector<Contraction>& contractions, const Timeline& timeline, const EcgSensor& sensor) {
  BumpWave wave;
  for (const Contraction& c : contractions) {
    const double breathing = std::max(1.0 + sensor.breathing_depth * timeline.breath(c.time), 0.2);
    const double scale = sensor.r_mv * breathing;
    const auto add = [&](const Bell& bell, double height) {
      const double s = stretch(bell.follows, c.usual);
      wave.add({c.time + s * bell.centre, s * bell.sd, scale * height});
    };
    if (c.label == BeatLabel::ventricular) {
      for (const Bell& bell : ventricular_beat) add(bell, bell.height);
      continue;
    }
    for (std::size_t i = 0; i < sinus_beat.size(); ++i) {
      const bool flat_p = i == 0 && c.label == BeatLabel::supraventricular;
      add(sinus_beat[i], sinus_beat[i].height * (flat_p ? ectopic_p : 1.0));
    }
  }
  wave.finish();
  return wave;
}

double r_peak(const BumpWave& wave, const Contraction& contraction) {
  constexpr double reach = 0.015;  // neighbouring waves move the maximum by less than 3 ms
  return wave.peak_near(contraction.time, reach).time;
}

}  // namespace pulsewright::simulation
