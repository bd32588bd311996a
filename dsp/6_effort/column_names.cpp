#include "column_names.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace pulsewright {

namespace {

constexpr std::array roster_list{
    ColumnNames{"code", "id pupil student learner schüler kürzel kuerzel kennung codigo código alumno alumna"},
    ColumnNames{"age_years", "age years alter jahre lebensalter edad años"},
    ColumnNames{"sex", "gender geschlecht sexo género genero"},
    ColumnNames{"resting_bpm",
                "resting resting_hr rest_hr resting_rate resting_heart_rate resting_pulse ruhepuls ruheherzfrequenz "
                "ruhefrequenz hf_ruhe pulso_en_reposo frecuencia_en_reposo fc_reposo fc_en_reposo pulso_reposo"},
    ColumnNames{"maximum_bpm",
                "maximum max max_hr hr_max hrmax maximum_hr maximum_rate max_heart_rate maximum_heart_rate "
                "maximalpuls maximalfrequenz hf_max hfmax pulso_máximo pulso_maximo frecuencia_máxima "
                "frecuencia_maxima fc_max fc_máx"},
    ColumnNames{"ceiling_bpm", "ceiling limit obergrenze grenze límite limite techo"},
    ColumnNames{"exercise", "belastung übung bewegung ejercicio"}};

constexpr std::array sheet_list{
    ColumnNames{"code", roster_list[0].others},
    ColumnNames{"file", "filename file_name recording datei dateiname aufnahme archivo fichero grabación grabacion"},
    ColumnNames{"channel", "kanal canal"},
    ColumnNames{"from", "start von desde"},
    ColumnNames{"to", "end bis ende hasta"},
    ColumnNames{"file_begins", "begins beginnt beginn dateibeginn comienza inicio"},
    ColumnNames{"activity", "aktivität aktivitaet tätigkeit actividad"},
    ColumnNames{"exertion", "rpe felt anstrengung empfinden esfuerzo"},
    ColumnNames{"marks", "marken marcas"},
    ColumnNames{"rate_hz", "rate sampling_rate sample_rate hz abtastrate frecuencia_de_muestreo muestreo"},
    ColumnNames{"kind", "art tipo"},
    ColumnNames{"laps", "runden vueltas"},
    ColumnNames{"distance_m", "distance strecke distancia"},
    ColumnNames{"score", "points punkte puntos"},
    ColumnNames{"place", "platz puesto"},
    ColumnNames{"time_s", "time zeit tiempo"}};

/// `Resting HR (bpm)` as `resting_hr`.
std::string plain(std::string_view name) {
  if (const std::size_t bracket = name.find_first_of("(["); bracket != std::string_view::npos && bracket > 0)
    name = name.substr(0, bracket);
  std::string text;
  for (const char c : name) {
    const bool mark = c == ' ' || c == '-' || c == '.' || c == '_' || c == '/';
    if (!mark)
      text += c;
    else if (!text.empty() && text.back() != '_')
      text += '_';
  }
  while (!text.empty() && text.back() == '_') text.pop_back();
  return text;
}

bool is_among(std::string_view word, std::string_view words) {
  while (!words.empty()) {
    const std::size_t end = std::min(words.find(' '), words.size());
    if (words.substr(0, end) == word) return true;
    words.remove_prefix(std::min(end + 1, words.size()));
  }
  return false;
}

}  // namespace

const std::span<const ColumnNames> roster_names{roster_list};
const std::span<const ColumnNames> sheet_names{sheet_list};

Warnings understand_columns(Table& table, std::span<const ColumnNames> names) {
  std::string told;
  for (std::string& column : table.columns) {
    if (std::any_of(names.begin(), names.end(), [&](const ColumnNames& known) { return column == known.column; }))
      continue;
    const std::string word = plain(column);
    for (const ColumnNames& known : names) {
      if (word.empty() || (word != known.column && !is_among(word, known.others)) || table.column(known.column))
        continue;
      told += fmt::format("{}'{}' as {}", told.empty() ? "" : ", ", column, known.column);
      column = known.column;
      break;
    }
  }
  if (told.empty()) return {};
  return {{"columns_understood", fmt::format("{}: columns are read as follows: {}.", table.file, told)}};
}

std::optional<Sex> sex_in(std::string_view word) {
  std::string lower{word};
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  if (is_among(lower, "f w female woman girl weiblich frau mädchen femenino mujer chica niña")) return Sex::female;
  if (is_among(lower, "m male man boy männlich mann junge masculino hombre chico niño")) return Sex::male;
  if (is_among(lower, "d x divers diverse other unstated no_binario otro")) return Sex::unstated;
  return std::nullopt;
}

}  // namespace pulsewright
