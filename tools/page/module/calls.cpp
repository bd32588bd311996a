#include "calls.hpp"

#include <emscripten.h>

#include <array>
#include <exception>
#include <filesystem>
#include <fstream>
#include <new>
#include <utility>

#include "pulsewright/error.hpp"

EM_JS(void, pulsewright_progress, (const char* step, const char* detail), {
  if (Module["progress"]) Module["progress"](UTF8ToString(step), UTF8ToString(detail));
});

namespace pulsewright::page {
namespace {

using Call = Json (*)(const Json&);

constexpr std::array<std::pair<std::string_view, Call>, 15> calls{{
    {"inspect", inspect},
    {"analyze", analyze},
    {"session_file", session_file},
    {"sheet_files", sheet_files},
    {"table", table},
    {"roster_people", roster_people},
    {"study_class", study_class},
    {"class_file", class_file},
    {"targets", targets},
    {"counted", counted},
    {"bench_open", bench_open},
    {"bench_turn", bench_turn},
    {"live_open", live_open},
    {"live_push", live_push},
    {"live_file", live_file},
}};

Json failure(const char* code, const std::string& message) {
  return {{"error", {{"code", code}, {"message", message}}}};
}

const char* word_of(ErrorCode code) {
  switch (code) {
    case ErrorCode::usage: return "usage";
    case ErrorCode::unreadable: return "unreadable";
    case ErrorCode::unwritable: return "unwritable";
    case ErrorCode::contract: break;
  }
  return "contract";
}

Json answer(std::string_view name, const char* asked) {
  for (const auto& [known, call] : calls) {
    if (known != name) continue;
    try {
      return call(Json::parse(asked));
    } catch (const Error& error) {
      return failure(word_of(error.code()), error.what());
    } catch (const std::bad_alloc&) {
      return failure("memory", "there is not enough memory for this");
    } catch (const std::exception& error) {
      return failure("contract", error.what());
    }
  }
  return failure("contract", "no call is named " + std::string(name));
}

}  // namespace

void tell_progress(const char* step, const std::string& detail) { pulsewright_progress(step, detail.c_str()); }

std::string put_result(const std::string& name, std::string_view bytes) {
  std::filesystem::create_directories(results_folder);
  const std::filesystem::path path = std::filesystem::path(results_folder) / name;
  std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  return path.string();
}

std::string options_of(const Json& asked) {
  const Json* found = asked.find("options");
  return found != nullptr ? found->dump() : "{}";
}

std::string text_of(const Json& asked, const char* key) {
  const Json* found = asked.find(key);
  return found != nullptr && found->is_string() ? found->get<std::string>() : std::string();
}

}  // namespace pulsewright::page

/// The one door: the name of a call and a JSON object; the reply is JSON that stays until the next call.
extern "C" const char* pulsewright_call(const char* name, const char* asked) {
  static std::string reply;
  reply = pulsewright::page::answer(name, asked).dump();
  return reply.c_str();
}
