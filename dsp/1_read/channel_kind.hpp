/// What a channel measures, told from its name, its unit and its rate.
#pragma once

#include <string_view>

#include "pulsewright/recording.hpp"

namespace pulsewright::reading {

/// The table, first match wins. A name is cut into lower-case words at everything that is not a letter or digit, and between a word and the
/// digits at its end.
///
/// | kind | a word of the name | or the unit |
/// |---|---|---|
/// | marker | marker, mark, button, event, trigger, label, activity | |
/// | gyro | gyro, gyr, gyroscope, gx gy gz, omega | deg/s, dps, rad/s |
/// | acceleration | acc, accel, accelerometer, acceleration, ax ay az | g, mg, m/s2, m/s^2 |
/// | respiration | resp, respiration, breath, breathing, co2, capno, airflow, thorax, abdomen | |
/// | ecg | ecg, ekg; or the whole name is a lead: I II III V aVR aVL aVF AVR... V1 to V9, ML I to III, MLII, MCL1..., also after "lead" | |
/// | pulse | ppg, pleth, plethysmogram, pulse, bvp, ir, infrared, red, green, optical | |
/// | other | everything else, and whatever would be ecg or pulse but comes slower than 10 Hz or in beats/min: a monitor's rate | |
[[nodiscard]] ChannelKind kind_of_channel(std::string_view name, std::string_view unit, Hertz rate);

}  // namespace pulsewright::reading
