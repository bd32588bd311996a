/// `batch`: many recordings, a row each.
#include <algorithm>
#include <atomic>
#include <exception>
#include <filesystem>
#include <memory>
#include <mutex>
#include <thread>

#include "commands.hpp"
#include "help_ending.hpp"
#include "output_options.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"
#include "record_list.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {
namespace {

constexpr int most_workers = 256;

struct BatchFlags {
  InputFlags input;
  StageFlags stages;
  OutputFlags output;
  int workers = 0;  ///< 0: as many as the machine has
};

/// A message that names the record as its row does, so that rows are the same wherever the records lie.
std::string by_row_name(std::string message, const ListedRecord& record) {
  const std::string path = record.path.string();
  for (std::size_t at = message.find(path); !path.empty() && at != std::string::npos;
       at = message.find(path, at + record.name.size()))
    message.replace(at, path.size(), record.name);
  return message;
}

/// One record from start to end. Its failure is its row's.
BatchRow row_of(const ListedRecord& record, const BatchFlags& flags) {
  BatchRow failed;
  failed.file = record.name;
  failed.status = BatchRow::Status::failed;
  try {
    InputFlags input = flags.input;
    input.input = record.path.string();
    return batch_row(record.name, analyze_input(input, flags.stages));
  } catch (const Error& error) {
    failed.exit_code = static_cast<int>(error.code() == ErrorCode::usage ? ExitCode::usage : ExitCode::unreadable);
    failed.reason = by_row_name(error.what(), record);
  } catch (const std::exception& error) {
    failed.exit_code = static_cast<int>(ExitCode::unreadable);
    failed.reason = error.what();
  }
  return failed;
}

/// Rows in the order of the records, whichever worker made them.
std::vector<BatchRow> all_rows(const std::vector<ListedRecord>& records, const BatchFlags& flags) {
  std::vector<BatchRow> rows(records.size());
  std::atomic<std::size_t> next{0}, finished{0};
  std::mutex terminal;
  const bool progress = progress_wanted();
  const auto work = [&] {
    for (std::size_t i = next++; i < records.size(); i = next++) {
      rows[i] = row_of(records[i], flags);
      const std::size_t count = ++finished;
      if (!progress) continue;
      const std::lock_guard<std::mutex> alone(terminal);
      talk_progress(std::to_string(count) + " of " + std::to_string(records.size()) + " records");
    }
  };
  const auto asked = static_cast<std::size_t>(
      flags.workers > 0 ? flags.workers : static_cast<int>(std::max(1U, std::thread::hardware_concurrency())));
  std::vector<std::thread> others;
  for (std::size_t i = 1; i < std::min(asked, records.size()); ++i) others.emplace_back(work);
  work();
  for (std::thread& other : others) other.join();
  if (progress) talk_progress("");
  return rows;
}

Provenance provenance_of(const BatchFlags& flags) {
  Provenance provenance;
  provenance.input = std::filesystem::path(flags.input.input).lexically_normal().filename().string();
  provenance.format = "batch";
  provenance.options =
      joined({settings(flags.input), settings(flags.stages.window), settings(flags.stages.person)}).dump();
  provenance.version = version();
  return provenance;
}

/// On stderr a record goes by its path, so that it can be found.
void tell_failures(const std::vector<ListedRecord>& records, const std::vector<BatchRow>& rows) {
  Warnings warnings;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].exit_code == 0) continue;
    const bool named = rows[i].reason.starts_with(records[i].name);
    const std::string reason = named ? rows[i].reason.substr(records[i].name.size()) : ": " + rows[i].reason;
    warnings.push_back({"record_" + std::string(to_string(rows[i].status)), records[i].path.string() + reason});
  }
  talk_warnings(warnings);
}

/// Without a resting rate the targets of a batch need not be on one scale.
void tell_scales(const std::vector<BatchRow>& rows) {
  const auto by_reserve =
      std::count_if(rows.begin(), rows.end(), [](const BatchRow& r) { return r.target_method == "reserve"; });
  const auto by_maximum =
      std::count_if(rows.begin(), rows.end(), [](const BatchRow& r) { return r.target_method == "maximum"; });
  if (by_reserve + by_maximum == 0) return;
  talk_warnings({{"targets_on_two_scales",
                  "Without --resting the target is a share of the reserve above a record's own lowest minute (in " +
                      std::to_string(by_reserve) + " of the records) or of the maximum (in " +
                      std::to_string(by_maximum) + "); look at target_method before comparing"}});
}

ExitCode run(const BatchFlags& flags) {
  prepare_output(flags.output);
  static_cast<void>(analyze_options(flags.stages));  // wrong usage is refused once, not in every row
  const Person person = person_of(flags.stages.person);
  const std::optional<MaximumRate> maximum = maximum_rate(person, effort_options(flags.stages.person).equation);
  const std::vector<ListedRecord> records = list_records(flags.input.input, flags.input.form != "recording");
  const std::vector<BatchRow> rows = all_rows(records, flags);
  deliver(flags.output, "batch",
          {[&] { return batch_text(rows); }, [&](const NumberStyle& style) { return batch_csv(rows, style); },
           [&] { return batch_json(rows, provenance_of(flags)); }});
  talk_warnings(person_warnings(flags.stages.person));
  if (maximum) talk_warnings(maximum_warnings(person, *maximum));
  if (maximum && !person.resting) tell_scales(rows);
  tell_failures(records, rows);
  if (rows.empty()) talk_warnings({{"no_records", flags.input.input + " holds no recording"}});
  const bool clean =
      !rows.empty() && std::all_of(rows.begin(), rows.end(), [](const BatchRow& r) { return r.exit_code == 0; });
  return clean ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_batch(Program& program) {
  const auto flags = std::make_shared<BatchFlags>();
  CLI::App* command = program.app.add_subcommand("batch", "Many recordings, a row each");
  command
      ->add_option(
          "INPUT", flags->input.input,
          "Folder; pattern in quotes; one recording; or a list, a text file with one path a line, relative to itself "
          "(- reads a list from standard input)")
      ->required()
      ->type_name("");
  add_time_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input);
  add_window_options(*command, flags->stages.window);
  add_person_options(*command, flags->stages.person);
  command
      ->add_option("--workers", flags->workers,
                   "Records worked on at once; the rows do not depend on it. 0: as the machine allows")
      ->check(number_between(0, most_workers))
      ->type_name("N")
      ->capture_default_str();
  add_output_options(*command, flags->output, "csv");
  end_help(*command, "pulsewright batch datasets/simulated/club --age 15 --workers 2");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
