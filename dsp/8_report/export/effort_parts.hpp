/// Parts of pages and documents about effort that several of them share.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "pulsewright/session.hpp"

namespace pulsewright {

/// The page of a time account, without reasons and cautions at its end.
void add_effort_page(TextPage& page, const Effort& result);

/// The cells of a time account, from `code` to `target_method`.
void put_effort_cells(CsvTable& table, const Effort& result);

/// What a session's document has beside the time account.
[[nodiscard]] Json session_body(const SessionEffort& session, Reasons& reasons);

/// `very light`, ...; `warm-up`, ...
[[nodiscard]] const char* words_of(Intensity intensity);
[[nodiscard]] std::string words_of(const Phase& phase);

/// A time in microseconds as a stop watch shows it, and in seconds.
[[nodiscard]] std::string clock_of(std::int64_t us);
[[nodiscard]] double seconds_of(std::int64_t us);

/// `41 % (36 to 47)`; the brackets only where the ends differ once rounded.
[[nodiscard]] std::string ranged_text(const Ranged& value, int decimals, const std::string& unit);
/// `3:10 (2:40 to 3:50)` for seconds.
[[nodiscard]] std::string ranged_clock(const Ranged& seconds);

[[nodiscard]] std::optional<double> number_of(const std::optional<BeatsPerMinute>& rate);

}  // namespace pulsewright
