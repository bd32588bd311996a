#include "record_stamps.hpp"

#include <algorithm>
#include <cstdint>

namespace pulsewright::program {
namespace fs = std::filesystem;
namespace {

std::vector<std::string> names_in(const fs::path& folder) {
  std::error_code failure;
  std::vector<std::string> names;
  for (fs::directory_iterator entry(folder, failure), end; !failure && entry != end; entry.increment(failure))
    names.push_back(entry->path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace

std::string RecordStamps::of(const fs::path& record) {
  std::error_code ignored;
  std::uintmax_t files = 0, bytes = 0;
  fs::file_time_type latest = fs::file_time_type::min();
  const auto take = [&](const fs::path& file) {
    if (!fs::is_regular_file(file, ignored)) return;
    ++files;
    bytes += fs::file_size(file, ignored);
    latest = std::max(latest, fs::last_write_time(file, ignored));
  };
  take(record);
  if (files == 0) {
    const fs::path folder = record.has_parent_path() ? record.parent_path() : fs::path(".");
    const auto known = names_.find(folder);
    const std::vector<std::string>& names = known == names_.end() ? names_[folder] = names_in(folder) : known->second;
    const std::string stem = record.filename().string();
    for (auto name = std::lower_bound(names.begin(), names.end(), stem); name != names.end() && name->starts_with(stem);
         ++name)
      if (name->size() > stem.size() && std::string_view("._-").find((*name)[stem.size()]) != std::string_view::npos)
        take(folder / *name);
  }
  return std::to_string(files) + " files, " + std::to_string(bytes) + " bytes, " +
         std::to_string(latest.time_since_epoch().count());
}

}  // namespace pulsewright::program
