// Annotation files. What is read must survive being written and read again.
#include <cstdlib>

#include "entry.hpp"
#include "pulsewright/read.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace pulsewright;
  static const fuzz::ScratchFile file{"r.atr"};
  fuzz::may_refuse([&] {
    const auto first = read_annotations(file.write(data, size));
    const std::string bytes = annotation_bytes(first);  // refuses times that run backwards
    const auto second = read_annotations(file.write(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size()));
    if (annotation_bytes(second) != bytes) std::abort();
    static_cast<void>(read_beats(file.write(data, size), Hertz{250}));
  });
  return 0;
}

std::vector<std::string> seeds() {
  using pulsewright::Annotation;
  using pulsewright::SampleIndex;
  std::vector<Annotation> all;
  for (int i = 0; i < 50; ++i)
    all.push_back({SampleIndex{i * 300 * (i % 7)}, 1 + i % 49, i % 5 - 2, i % 2, i % 3, i % 11 == 0 ? "(N" : ""});
  std::vector<Annotation> ordered;
  for (const Annotation& a : all)
    if (ordered.empty() || !(a.sample < ordered.back().sample)) ordered.push_back(a);
  return {pulsewright::annotation_bytes(ordered), pulsewright::annotation_bytes({}),
          pulsewright::annotation_bytes(
              {{SampleIndex{0}, 22, 0, 0, 0, "## time resolution: 256"}, {SampleIndex{90000}, 1, 0, 0, 0, {}}})};
}
