#include "pulsewright/class_members.hpp"

#include <map>
#include <string_view>
#include <tuple>
#include <utility>

#include "pulsewright/error.hpp"
#include "pulsewright/input_signals.hpp"
#include "pulsewright/session_files.hpp"
#include "pulsewright/stated_clocks.hpp"

namespace pulsewright {
namespace {

/// Rates of one file, and when it began.
struct FileRates {
  RateSeries rates;
  std::optional<std::string> clock_start;
  bool rate_was_stated = false;
};

/// The kind of wave that a line of the sheet names.
KindChoice kind_of(const std::string& word) {
  if (word == "ecg") return KindChoice::ecg;
  return word == "pulse" ? KindChoice::pulse : KindChoice::automatic;
}

FileRates rates_of(const SheetEntry& entry, Request request) {
  request.input = entry.file;
  if (!entry.channel.empty()) request.channels = {entry.channel};
  if (entry.rate) request.read.rate = entry.rate;
  if (!entry.kind.empty()) request.kind = kind_of(entry.kind);
  if (holds_rates(entry.file, entry.channel)) {
    RateSeries rates = session_rates(entry.file.string(), entry.channel);
    return {std::move(rates), clock_start_of_rates(entry.file)};
  }
  if (is_beat_list(entry.file)) {
    request.form = InputForm::beats;
    return {analyze_input(request).rates, std::nullopt};
  }
  InputSignals signals;
  const Analysis analysis = analyze_input(request, signals);
  return {analysis.rates, signals.recording->clock_start, request.read.rate.has_value()};
}

/// A message of the reader, which names options that a sheet does not have: what it advises for a list of intervals
/// is done before.
std::string in_terms_of_a_sheet(std::string message) {
  constexpr std::string_view option = "--input ";
  if (message.find(option) == std::string::npos) return message;
  for (std::size_t at = message.find(option); at != std::string::npos; at = message.find(option, at + 1)) {
    constexpr std::string_view before = "rate FILE ";
    message.insert(at, before);
    at += before.size();
  }
  return message + ". What that prints with --format csv is a list of heart rates, which a sheet takes";
}

}  // namespace

std::vector<ClassMember> class_members(const SessionSheet& sheet, const Roster& roster, const Request& asked,
                                       const SessionOptions& session, const MemberNotice& notice) {
  std::map<std::tuple<std::string, std::string, double, std::string>, FileRates> files;
  std::vector<ClassMember> members;
  for (const SheetEntry& entry : sheet.entries) {
    Person unknown;
    unknown.code = entry.code;
    const Person* person = roster.find(entry.code);
    if (notice) notice(entry);
    ClassMember member;
    member.entry = entry;
    try {
      const auto key =
          std::tuple(entry.file.string(), entry.channel, entry.rate ? entry.rate->value() : 0.0, entry.kind);
      auto found = files.find(key);
      if (found == files.end()) found = files.emplace(key, rates_of(entry, asked)).first;
      const std::vector<PhaseMark> marks = entry.marks ? read_marks(*entry.marks) : std::vector<PhaseMark>{};
      member = class_member(entry, found->second.rates, found->second.clock_start,
                            person != nullptr ? *person : unknown, marks, session);
      member.rate_was_stated = found->second.rate_was_stated;
    } catch (const Error& error) {
      member.failure = in_terms_of_a_sheet(error.what());
    }
    members.push_back(std::move(member));
  }
  return members;
}

}  // namespace pulsewright
