// Feeds a fuzz target its seeds and seeded mutations of them: the same inputs on every run, so that a failure can be repeated.
#include <cstdio>
#include <cstdlib>
#include <random>

#include "entry.hpp"

namespace {

using Random = std::mt19937;

std::size_t below(Random& random, std::size_t n) { return n == 0 ? 0 : random() % n; }

/// Pieces that parsers stumble over.
const std::vector<std::string>& awkward() {
  static const std::vector<std::string> pieces{"-1",
                                               "0",
                                               "99999999999999999999",
                                               "4294967296",
                                               "-2147483649",
                                               "1e308",
                                               "nan",
                                               "inf",
                                               "\n",
                                               "\r\n",
                                               ",",
                                               ";",
                                               "\t",
                                               "\"",
                                               "#",
                                               std::string(1, '\0'),
                                               "\xff\xff\xff\xff",
                                               std::string(40, '\0'),
                                               std::string(300, 'A'),
                                               ":",
                                               "/",
                                               "~",
                                               " ",
                                               "2024-01-01T",
                                               "x",
                                               "+",
                                               ":"};
  return pieces;
}

void mutate(std::string& bytes, const std::string& other, Random& random) {
  const std::size_t at = below(random, bytes.size() + 1);
  switch (random() % 8) {
    case 0:
      if (!bytes.empty()) bytes[at % bytes.size()] = static_cast<char>(random() & 0xff);
      break;
    case 1:
      if (!bytes.empty()) bytes[at % bytes.size()] = static_cast<char>(bytes[at % bytes.size()] ^ (1 << random() % 8));
      break;
    case 2: bytes.resize(at); break;
    case 3: bytes.erase(at, below(random, 20)); break;
    case 4: bytes.insert(at, awkward()[below(random, awkward().size())]); break;
    case 5: bytes.insert(at, bytes.substr(below(random, bytes.size() + 1), below(random, 60))); break;
    case 6: bytes.insert(at, other.substr(below(random, other.size() + 1), below(random, 60))); break;
    default: {
      const std::string& piece = awkward()[below(random, awkward().size())];
      bytes.replace(at, piece.size(), piece);
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  // tests/run.sh --full sets PULSEWRIGHT_LONG
  const int longer = std::getenv("PULSEWRIGHT_LONG") != nullptr ? 20 : 1;
  const int rounds = longer * (argc > 1 ? std::atoi(argv[1]) : 3000);
  const std::vector<std::string> starts = seeds();
  const auto feed = [](const std::string& bytes) {
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
  };
  for (const std::string& start : starts) feed(start);
  Random random{20240301};
  for (int round = 0; round < rounds; ++round) {
    std::string bytes = starts[below(random, starts.size())];
    const std::string& other = starts[below(random, starts.size())];
    for (std::size_t n = 1 + below(random, 6); n-- > 0;) mutate(bytes, other, random);
    feed(bytes);
  }
  std::printf("%zu seeds and %d mutations were read or refused\n", starts.size(), rounds);
  return 0;
}
