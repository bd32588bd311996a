/// What a channel measures, told from its name, its unit and its rate.
#pragma once

#include <string_view>

#include "pulsewright/recording.hpp"

namespace pulsewright::reading {

/// The table, first match wins. A name is cut into lower-case words at everything that is not a letter (those of UTF-8 too) or digit; a word that
/// ends in digits also counts without them.
///
/// | kind | a word of the name, English, German, French or Spanish |
/// |---|---|
/// | marker | marker, mark, button, event, trigger, label, activity; taste, ereignis, marke; bouton; boton, evento |
/// | gyro | gyro, gyr, gyroscope, gx gy gz, omega, drehrate |
/// | acceleration | acc, accel, accelerometer, acceleration, ax ay az; beschl, beschleunigung; aceleracion |
/// | respiration | resp, respiration, breath, breathing, co2, capno, airflow, thorax, abdomen; atem, atmung; souffle; respiracion |
/// | ecg | ecg, ekg; or the whole name, after `lead` too, is I II III V aVR aVL aVF V1 to V9 MLI MLII MLIII MCL1 MCL5 MCL6 D1 to D3 CM5 |
/// | pulse | ppg, pleth, plethysmogram, pulse, bvp, ir, infrared, red, green, optical, light, finger; puls, licht, rot, gruen; pouls, lumiere, rouge, vert, doigt; pulso, luz, rojo, verde, dedo. `rot` beside x, y or z is a rotation |
/// | ecg or pulse | heart, herz, coeur, corazon: ecg in volts, else pulse |
/// | gyro | by its unit: deg/s, dps, rad/s, degs^-1 |
/// | acceleration | by its unit: g, mg, m/s2, m/s^2, ms^-2 |
/// | other | everything else, and what would be ecg or pulse but comes slower than 10 Hz, in beats/min or as a rate: a monitor's reading |
[[nodiscard]] ChannelKind kind_of_channel(std::string_view name, std::string_view unit, Hertz rate);

}  // namespace pulsewright::reading
