/// Whether a sign in numbers parts decimals or thousands: `1,012` beside `998` and `1,034`.
///
/// A column's own cells decide. A sign parts thousands for sure where a number has two of it (`1,234,567`) or one before
/// the other sign (`1,012.5`). It parts decimals for sure where other than three digits stand behind it, or more than
/// three or a zero before it, or where a number of four digits and more stands in the column without it. Cells that fit
/// both, beside whole numbers from 1 to 999, leave it open; then the other columns of the file decide, since a file has
/// one sign for decimals, and if they do not, the file is refused with both readings.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

namespace pulsewright::reading {

enum class NumberSign : std::size_t { point, comma };

[[nodiscard]] constexpr char letter_of(NumberSign sign) { return sign == NumberSign::point ? '.' : ','; }
[[nodiscard]] constexpr NumberSign other_than(NumberSign sign) {
  return sign == NumberSign::point ? NumberSign::comma : NumberSign::point;
}

/// Rows that follow each other, the last one included.
struct RowRun {
  std::int64_t first = 0, last = 0;
};

/// What the cells of one column show.
class GroupClues {
 public:
  /// A number with so many digits behind `sign`, 0 when it has no sign. `row` is where it stands.
  void take(double value, int decimals, NumberSign sign, std::int64_t row) {
    const double size = std::abs(value);
    if (decimals == 0) {
      plain_ |= size >= 1000 ? long_plain : size > 0 ? short_plain : 0U;
    } else if (decimals == 3 && size >= 1 && size < 1000) {
      of(sign).add(row);
    } else {
      of(sign).decide_decimals();
    }
  }
  /// A number as `grouped_number` reads it.
  void take_grouped(NumberSign sign, bool with_decimals) {
    of(sign).groups = true;
    if (with_decimals) of(other_than(sign)).decide_decimals();
  }
  /// Takes back what the cells of a row showed that turned out to be none, as far as it names the row.
  void take_back(std::int64_t row) {
    for (Parted& parted : parted_) {
      std::vector<RowRun>& rows = parted.rows;
      if (!rows.empty() && rows.back().last >= row) rows.back().last = row - 1;
      if (!rows.empty() && rows.back().last < rows.back().first) rows.pop_back();
    }
  }

  /// Whether some cell of the column has the sign before decimals, whatever the rest of the file shows.
  [[nodiscard]] bool parts_decimals(NumberSign sign) const {
    return of(sign).decimals || (fits_both(sign) && (plain_ & long_plain) != 0);
  }
  /// Whether some cell has it before thousands.
  [[nodiscard]] bool parts_thousands(NumberSign sign) const { return of(sign).groups; }
  /// Whether a cell fits both.
  [[nodiscard]] bool fits_both(NumberSign sign) const { return !of(sign).rows.empty(); }
  /// Whether both readings differ in more than the scale of the column.
  [[nodiscard]] bool is_mixed() const { return (plain_ & short_plain) != 0; }
  /// The rows whose cells fit both, as long as none shows that the sign parts decimals.
  [[nodiscard]] const std::vector<RowRun>& rows_of_both(NumberSign sign) const { return of(sign).rows; }

 private:
  enum : unsigned { short_plain = 1, long_plain = 2 };
  struct Parted {
    bool decimals = false, groups = false;
    std::vector<RowRun> rows;

    void add(std::int64_t row) {
      if (decimals) return;
      if (!rows.empty() && rows.back().last + 1 == row)
        ++rows.back().last;
      else
        rows.push_back({row, row});
    }
    void decide_decimals() {
      decimals = true;
      rows = {};
    }
  };
  [[nodiscard]] const Parted& of(NumberSign sign) const { return parted_[static_cast<std::size_t>(sign)]; }
  [[nodiscard]] Parted& of(NumberSign sign) { return parted_[static_cast<std::size_t>(sign)]; }

  unsigned plain_ = 0;
  std::array<Parted, 2> parted_;
};

struct GroupedNumber {
  double value = 0;
  NumberSign sign = NumberSign::comma;  ///< that parts the thousands
  bool with_decimals = false;
};

/// A number whose thousands are parted for sure: by two signs and more (`1,234,567`), or by one before decimals
/// (`1,012.5`). Nothing for any other.
[[nodiscard]] std::optional<GroupedNumber> grouped_number(std::string_view cell);

/// Whether the sign parts thousands in a column; nothing where that stays open. `decimal` says of each sign whether any
/// column of the file has it before decimals.
[[nodiscard]] std::optional<bool> parts_thousands(const GroupClues& column, NumberSign sign,
                                                  const std::array<bool, 2>& decimal);

/// Turns samples that were read as decimals into the thousands that they are.
void read_as_thousands(std::vector<float>& samples, const GroupClues& column, NumberSign sign);

}  // namespace pulsewright::reading
