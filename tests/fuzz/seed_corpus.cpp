// Fills an empty corpus folder with a target's seeds before the fuzzer reads it.
#include <filesystem>
#include <fstream>
#include <string>

#include "entry.hpp"

extern "C" int LLVMFuzzerInitialize(int* count, char*** arguments) {
  namespace fs = std::filesystem;
  for (int i = 1; i < *count; ++i) {
    const std::string argument = (*arguments)[i];
    std::error_code failure;
    if (argument.starts_with('-') || !fs::is_directory(argument, failure) || !fs::is_empty(argument, failure)) continue;
    int number = 0;
    for (const std::string& seed : seeds())
      std::ofstream(fs::path(argument) / ("seed" + std::to_string(number++)), std::ios::binary) << seed;
    break;
  }
  return 0;
}
