// The one exception of the library.
#include "pulsewright/error.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace pulsewright {
namespace {

TEST(Error, CarriesItsCodeAndItsWholeMessage) {
  const Error error{ErrorCode::unreadable, "wren.csv: line 7: 'abc' is not a number"};
  EXPECT_EQ(error.code(), ErrorCode::unreadable);
  EXPECT_STREQ(error.what(), "wren.csv: line 7: 'abc' is not a number");
}

TEST(Error, IsCaughtAsAStandardExceptionWithoutLosingItsCode) {
  try {
    try {
      throw Error{ErrorCode::usage, "no channel named 'ear'"};
    } catch (const std::exception& error) {
      EXPECT_STREQ(error.what(), "no channel named 'ear'");
      throw;
    }
  } catch (const Error& error) {
    EXPECT_EQ(error.code(), ErrorCode::usage);
  }
}

TEST(Error, IsNeverMadeOfAMessageAlone) {
  static_assert(!std::is_constructible_v<Error, const char*>);
  static_assert(!std::is_constructible_v<Error, std::string>);
  static_assert(std::is_base_of_v<std::runtime_error, Error>);
}

}  // namespace
}  // namespace pulsewright
