/// `batch`: many recordings, a row each.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <memory>
#include <optional>
#include <thread>

#include "batch/batch_database.hpp"
#include "batch/batch_journal.hpp"
#include "batch/worker_pool.hpp"
#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/output_options.hpp"
#include "options/report_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"
#include "records/record_list.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

constexpr int most_workers = 256;

struct BatchFlags {
  InputFlags input;
  StageFlags stages;
  OutputFlags output;
  int workers = 0;  ///< 0: as many as the machine has
  double time_limit_s = 600;
  double memory_limit_mb = 4096;
  std::string journal, database, list;
  PageFlags page;
  std::string shard;
  bool merge = false;
};

/// The part of a batch that this run works on: records whose position leaves `index` when divided by `count`.
struct Shard {
  std::size_t index = 0;
  std::size_t count = 1;
};

Shard shard_of(const std::string& text) {
  if (text.empty()) return {};
  const std::size_t slash = text.find('/');
  const auto whole = [&text](std::string_view part) -> std::size_t {
    const bool digits =
        !part.empty() && part.size() < 10 && part.find_first_not_of("0123456789") == std::string_view::npos;
    if (!digits) throw Error(ErrorCode::usage, "--shard: '" + text + "' is not of the form 2/8");
    return std::stoul(std::string(part));
  };
  const std::size_t index = whole(std::string_view(text).substr(0, slash));
  const std::size_t count =
      whole(slash == std::string::npos ? std::string_view{} : std::string_view(text).substr(slash + 1));
  if (index < 1 || index > count)
    throw Error(ErrorCode::usage, "--shard: '" + text + "' names no shard; shards count from 1 to their number");
  return {index - 1, count};
}

/// What is asked of one record: the options of the command line, and its own in their place.
Request request_of(const Request& common, const ListedRecord& record) {
  Request request = record.options.empty() ? common : with_options(common, record.options);
  request.input = record.path;
  return request;
}

BatchIdentity identity_of(const std::vector<ListedRecord>& records, const Request& common) {
  std::string names;
  for (const ListedRecord& record : records) names += record.name + '\0' + record.options + '\n';
  return {version(), options_json(common), records.size(), sha256_of_bytes(names)};
}

/// What would be worked on: the first line of a journal, then an object a record with all of its options.
void write_list(const BatchFlags& flags, const std::vector<ListedRecord>& records, const Request& common) {
  const Shard shard = shard_of(flags.shard);
  std::string lines = journal_beginning(identity_of(records, common));
  for (std::size_t i = shard.index; i < records.size(); i += shard.count)
    lines += job_line(i, records[i].name, std::filesystem::absolute(records[i].path),
                      options_json(request_of(common, records[i])));
  if (flags.list == "-")
    print(lines);
  else
    write_file(flags.list, lines);
}

/// A journal begins like a list: nothing that is there is replaced.
void check_list_target(const std::string& list) {
  std::error_code failure;
  if (list.empty() || list == "-" || !std::filesystem::exists(list, failure)) return;
  if (std::filesystem::is_regular_file(list, failure) && std::filesystem::file_size(list, failure) == 0) return;
  throw Error(ErrorCode::usage, "--list: " + list + " is there and is not replaced. Name another file, or - to print");
}

/// How far a batch is, with its speed and what is left at that speed.
class Progress {
 public:
  Progress(std::size_t all, std::size_t before) : all_(all), before_(before), shown_(progress_wanted()) {}
  ~Progress() {
    if (shown_) talk_progress("");
  }

  void one_more() {
    ++finished_;
    if (!shown_) return;
    const double took_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count();
    const double per_second = static_cast<double>(finished_) / std::max(took_s, 1e-3);
    const auto left = static_cast<double>(all_ - before_ - finished_);
    talk_progress(std::to_string(before_ + finished_) + " of " + std::to_string(all_) + " records, " +
                  format_number(per_second, 1) + " a second, " + format_clock(Seconds{left / per_second}) + " left");
  }

 private:
  std::size_t all_, before_, finished_ = 0;
  bool shown_;
  std::chrono::steady_clock::time_point began_ = std::chrono::steady_clock::now();
};

/// The rows of a shard by position: from the journal those that are there, worked on what is not.
std::map<std::size_t, BatchRow> rows_of(const std::vector<ListedRecord>& records, const Request& common,
                                        const BatchFlags& flags) {
  const Shard shard = shard_of(flags.shard);
  std::optional<BatchJournal> journal;
  if (!flags.journal.empty()) journal.emplace(flags.journal, identity_of(records, common));
  std::map<std::size_t, BatchRow> rows;
  std::vector<std::size_t> jobs;
  for (std::size_t i = shard.index; i < records.size(); i += shard.count) {
    const auto known = journal ? journal->rows().find(i) : std::map<std::size_t, BatchRow>::const_iterator{};
    if (journal && known != journal->rows().end())
      rows.emplace(i, known->second);
    else
      jobs.push_back(i);
  }
  if (!rows.empty()) talk_note(std::to_string(rows.size()) + " records are in the journal already");
  Progress progress(rows.size() + jobs.size(), rows.size());
  const auto keep = [&](std::size_t i, BatchRow row) {
    if (journal) journal->add(i, row);
    rows.emplace(i, std::move(row));
    progress.one_more();
  };
  const auto workers =
      flags.workers > 0 ? static_cast<unsigned>(flags.workers) : std::max(1U, std::thread::hardware_concurrency());
  run_in_workers(
      jobs, {workers, flags.time_limit_s, flags.memory_limit_mb},
      {[&](std::size_t i) {
         try {
           return line_of_row(work_on(request_of(common, records[i]), records[i].name));
         } catch (const Error& error) {  // of the record's own options
           return line_of_row(failed_row(records[i].name, static_cast<int>(ExitCode::usage), error.what()));
         }
       },
       [&](std::size_t i, const std::string& line) { keep(i, row_of_line(line)); },
       [&](std::size_t i, const std::string& why) {
         keep(i, failed_row(records[i].name, static_cast<int>(ExitCode::unreadable), records[i].name + ": " + why));
       }});
  return rows;
}

Provenance provenance_of(const BatchFlags& flags, const BatchIdentity& identity) {
  Provenance provenance;
  provenance.input = std::filesystem::path(flags.input.input).lexically_normal().filename().string();
  provenance.format = "batch";
  provenance.options = identity.options;
  provenance.version = identity.version;
  return provenance;
}

/// On stderr a record goes by its path, so that it can be found.
void tell_failures(const std::vector<std::string>& paths, const std::vector<BatchRow>& rows) {
  Warnings warnings;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].exit_code == 0) continue;
    const bool named = rows[i].reason.starts_with(rows[i].file);
    const std::string reason = named ? rows[i].reason.substr(rows[i].file.size()) : ": " + rows[i].reason;
    warnings.push_back({"record_" + std::string(to_string(rows[i].status)), paths[i] + reason});
  }
  talk_warnings(warnings);
}

/// The same bytes under two names are counted twice in every table: worth knowing.
void tell_repeated(const std::vector<BatchRow>& rows) {
  Warnings warnings;
  for (const std::vector<std::size_t>& same : summarize(rows).repeated) {
    std::string names;
    for (const std::size_t i : same) names += (names.empty() ? "" : ", ") + rows[i].file;
    warnings.push_back({"repeated_content", "the same bytes under several names: " + names});
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

ExitCode deliver_rows(const BatchFlags& flags, const std::vector<BatchRow>& rows, const std::vector<std::string>& paths,
                      const BatchIdentity& identity) {
  const Provenance provenance = provenance_of(flags, identity);
  deliver(flags.output, "batch",
          {[&] { return batch_text(rows); }, [&](const NumberStyle& style) { return batch_csv(rows, style); },
           [&] { return batch_json(rows, provenance); }, [&] { return batch_lines(rows); }});
  write_page(flags.page, [&](Language language) { return batch_report(rows, provenance, language); });
  if (!flags.database.empty()) write_database(flags.database, rows, provenance);
  tell_failures(paths, rows);
  tell_repeated(rows);
  if (rows.empty()) talk_warnings({{"no_records", flags.input.input + " holds no recording"}});
  const bool clean =
      !rows.empty() && std::all_of(rows.begin(), rows.end(), [](const BatchRow& r) { return r.exit_code == 0; });
  return clean ? ExitCode::done : ExitCode::no_value;
}

/// Journals of shards as one batch.
ExitCode run_merge(const BatchFlags& flags) {
  if (!flags.journal.empty() || !flags.shard.empty())
    throw Error(ErrorCode::usage, "--merge reads journals; --journal and --shard go with the runs that write them");
  BatchIdentity identity;
  const std::vector<BatchRow> rows = merged_rows(files_of(flags.input.input, ".jsonl"), identity);
  std::vector<std::string> names;
  names.reserve(rows.size());
  for (const BatchRow& row : rows) names.push_back(row.file);
  return deliver_rows(flags, rows, names, identity);
}

ExitCode run(const BatchFlags& flags) {
  prepare_output(flags.output);
  prepare_page(flags.page);
  check_database_target(flags.database);
  check_list_target(flags.list);
  const auto one_file = [](const std::string& a, const std::string& b) { return !a.empty() && a == b; };
  if (one_file(flags.page.report, flags.database) || one_file(flags.page.report, flags.journal) ||
      one_file(flags.database, flags.journal))
    throw Error(ErrorCode::usage, "--report, --database and --journal name files of their own");
  if (flags.merge) return run_merge(flags);
  if (!flags.shard.empty() && flags.journal.empty() && flags.output.format == "text")
    throw Error(ErrorCode::usage, "--shard goes with --journal, so that the shards can be merged");
  const Request common = request_of(flags.input, flags.stages);
  check(common);  // wrong usage is refused once, not in every row
  const std::optional<MaximumRate> maximum = maximum_rate(common.person, common.effort.equation);
  const std::vector<ListedRecord> records = list_records(flags.input.input, flags.input.form != "recording");
  for (const ListedRecord& record : records)
    if (!record.options.empty()) static_cast<void>(request_of(common, record));
  if (!flags.list.empty()) {
    write_list(flags, records, common);
    return ExitCode::done;
  }
  std::vector<BatchRow> rows;
  std::vector<std::string> paths;
  for (auto& [position, row] : rows_of(records, common, flags)) {
    rows.push_back(std::move(row));
    paths.push_back(records[position].path.string());
  }
  const ExitCode code = deliver_rows(flags, rows, paths, identity_of(records, common));
  talk_warnings(person_warnings(flags.stages.person));
  if (maximum) talk_warnings(maximum_warnings(common.person, *maximum));
  if (maximum && !common.person.resting) tell_scales(rows);
  return code;
}

}  // namespace

void add_batch(Program& program) {
  const auto flags = std::make_shared<BatchFlags>();
  Command* command = program.app.add_subcommand("batch", "Many recordings, a row each");
  command
      ->add_option(
          "INPUT", flags->input.input,
          "Folder; pattern in quotes; one recording; a list, a text file with one path a line, relative to itself; "
          "or a table with a column file and the options of each; - reads a list from standard input. With --merge: "
          "journals")
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
  command
      ->add_option("--journal", flags->journal,
                   "Note each record here when it is done; a run that was ended goes on from it when started again")
      ->type_name("FILE.jsonl");
  command->add_option("--shard", flags->shard, "Only this part of the records, as 2/8: the second of eight")
      ->type_name("I/N");
  command
      ->add_option("--list", flags->list,
                   "Write which records there are, with their options, and work on none; for other machines to work on "
                   "(- prints it)")
      ->type_name("FILE.jsonl");
  command->add_flag("--merge", flags->merge,
                    "Put the journals of all shards together; INPUT is their folder or a pattern");
  command->add_option("--time-limit", flags->time_limit_s, "Seconds that one record may take; 0: any")
      ->check(number_from_zero())
      ->type_name("SECONDS")
      ->capture_default_str();
  command->add_option("--memory-limit", flags->memory_limit_mb, "Memory that one record may take, in MB; 0: any")
      ->check(number_between(0, 1e9))
      ->type_name("MB")
      ->capture_default_str();
  command->add_option("--database", flags->database, "Write the rows into an SQLite file as well")
      ->type_name("FILE.sqlite");
  add_page_options(*command, flags->page);
  add_output_options(*command, flags->output, "csv", {"text", "csv", "json", "jsonl"});
  end_help(*command, "pulsewright batch datasets/simulated/club --age 15 --workers 2");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
