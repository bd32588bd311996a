/// `adjudicate`: two reviewers' edits of the same beats, and what is to be applied.
#include <filesystem>
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "pulsewright/beat_edits.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct AdjudicateFlags {
  std::string first, second, decisions;
  OutputFlags output;
};

std::string base_name(const std::string& path) {
  return std::filesystem::path(path).lexically_normal().filename().string();
}

ExitCode run(const AdjudicateFlags& flags) {
  prepare_output(flags.output);
  std::vector<BeatEdit> decisions;
  if (!flags.decisions.empty()) decisions = read_beat_edits(flags.decisions);
  const EditComparison comparison =
      compare_edits(read_beat_edits(flags.first), read_beat_edits(flags.second), decisions);
  if (comparison.open() > 0)
    talk_warnings({{"open_disputes", "Disputed and not decided: " + std::to_string(comparison.open()) +
                                         "; these edits are left out. --decisions names a file that settles them."}});
  Provenance provenance;
  provenance.input = base_name(flags.first);
  provenance.format = "edits";
  provenance.sha256 = sha256_of_file(flags.first);
  provenance.version = version();
  Json options = {{"second", base_name(flags.second)}, {"second_sha256", sha256_of_file(flags.second)}};
  if (!flags.decisions.empty()) {
    options["decisions"] = base_name(flags.decisions);
    options["decisions_sha256"] = sha256_of_file(flags.decisions);
  }
  provenance.options = settings_text(options);
  deliver(flags.output, "edits",
          {[&] { return adjudication_text(comparison); },
           [&](const NumberStyle&) { return beat_edits_csv(adjudicated(comparison)); },
           [&] { return adjudication_json(comparison, provenance); }});
  return ExitCode::done;
}

}  // namespace

void add_adjudicate(Program& program) {
  const auto flags = std::make_shared<AdjudicateFlags>();
  Command* command = program.app.add_subcommand(
      "adjudicate", "Two reviewers' edits of the same beats: what they agree on, and what a third decides");
  command->add_option("FIRST", flags->first, "File of edits of the first reviewer")->required()->type_name("");
  command->add_option("SECOND", flags->second, "File of edits of the second")->required()->type_name("");
  command
      ->add_option("--decisions", flags->decisions,
                   "File of edits that settle what is disputed; keep turns an edit down")
      ->type_name("FILE");
  add_output_options(*command, flags->output, "text");
  end_help(*command,
           "pulsewright adjudicate datasets/reviewed/heron_rest_ecg_edits_wren.csv "
           "datasets/reviewed/heron_rest_ecg_edits_plover.csv --format csv");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
