/// `compare rate`: heart rate of a sensor against a reference, for one pair or a study.
#include <filesystem>
#include <memory>

#include "compare_subcommands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "options/report_options.hpp"
#include "options/value_checks.hpp"
#include "options/window_options.hpp"
#include "pulsewright/agreement_report.hpp"
#include "pulsewright/error.hpp"
#include "standard_streams.hpp"
#include "study/compare_rates.hpp"

namespace pulsewright::program {
namespace {

namespace fs = std::filesystem;

struct CompareRateFlags {
  StudyInputs inputs{.reference_ending = "_reference.csv"};
  WindowFlags window;
  OutputFlags output;
  std::string align = "drift";
  double farthest_s = 30;
  double margin_bpm = 5;
  double fewest_pairs = 5;
  std::uint64_t seed = 1;
  bool only_aligned = false, any_offset = false;
  std::string figures;
  PageFlags page;
};

StudyOptions study_options(const CompareRateFlags& flags) {
  StudyOptions options;
  options.rates = rate_options(flags.window);
  options.alignment.steps = flags.align == "none"     ? AlignmentSteps::none
                            : flags.align == "offset" ? AlignmentSteps::offset
                                                      : AlignmentSteps::offset_and_drift;
  options.alignment.farthest = Seconds{flags.farthest_s};
  options.alignment.only_where_demanded = !flags.any_offset;
  options.paired.margin = flags.margin_bpm;
  options.paired.seed = flags.seed;
  options.fewest_pairs = static_cast<std::size_t>(flags.fewest_pairs);
  options.keep_unaligned = !flags.only_aligned;
  return options;
}

Provenance provenance_of(const CompareRateFlags& flags) {
  Provenance provenance;
  const std::string& named =
      flags.inputs.pair.test.input.empty() ? flags.inputs.pair.reference.input : flags.inputs.pair.test.input;
  provenance.input = fs::path(named).lexically_normal().filename().string();
  provenance.format = "study";
  auto options = settings(flags.inputs);
  options["align"] = flags.align;
  options["farthest_s"] = flags.farthest_s;
  if (flags.any_offset) options["any_offset"] = true;
  if (flags.only_aligned) options["only_aligned"] = true;
  options["margin_bpm"] = flags.margin_bpm;
  options["seed"] = flags.seed;
  provenance.options = settings_text(options);
  provenance.version = version();
  return provenance;
}

ExitCode run(const CompareRateFlags& flags) {
  prepare_output(flags.output);
  prepare_page(flags.page);
  const StudyOptions options = study_options(flags);
  const RateStudy study = rate_study(compare_rates(flags.inputs, options), options);
  talk_warnings(study.warnings);
  deliver(flags.output, "rate_comparison",
          {[&] { return study_text(study); }, [&](const NumberStyle& style) { return study_csv(study, style); },
           [&] { return study_json(study, provenance_of(flags)); }});
  if (!flags.output.out.empty()) {
    write_file(fs::path(flags.output.out) / "pairs.csv", study_pairs_csv(study, number_style(flags.output)));
    tell_files(flags.output, {"pairs.csv"});
  }
  write_page(flags.page, [&](Language language) { return study_report(study, provenance_of(flags), language); });
  if (!flags.figures.empty())
    write_figures(flags.figures, study_figures(study, language_of(flags.page.language).value_or(Language::english)));
  return study.flow.analysed > 0 ? ExitCode::done : ExitCode::no_value;
}

void add_study(Command& command, CompareRateFlags& flags) {
  command.add_option("--reference-column", flags.inputs.pair.reference_column, "Column of a reference table of rates")
      ->type_name("NAME");
  command.add_option("--column", flags.inputs.pair.column, "Column of a test table of rates")->type_name("NAME");
  command.add_option("--align", flags.align, "Steps of alignment: none, an offset, or an offset and a drift")
      ->check(one_of({"none", "offset", "drift"}))
      ->type_name("none|offset|drift")
      ->capture_default_str();
  command
      .add_option("--farthest", flags.farthest_s,
                  "Farthest offset to look at, from none or from what both say of the time of day at which they begin")
      ->check(number_between(1, 3600))
      ->type_name("SECONDS")
      ->capture_default_str();
  command.add_flag("--any-offset", flags.any_offset,
                   "Apply the best offset and drift even where the data do not demand them");
  command.add_flag("--only-aligned", flags.only_aligned, "Leave out records that could not be aligned");
  command.add_option("--margin", flags.margin_bpm, "Margin of the equivalence test, in beats/min")
      ->check(number_above_zero())
      ->type_name("BPM")
      ->capture_default_str();
  command.add_option("--fewest-pairs", flags.fewest_pairs, "Records with fewer pairs are left out")
      ->check(number_between(1, 1e6))
      ->type_name("N")
      ->capture_default_str();
  command.add_option("--seed", flags.seed, "Of the bootstrap over people")
      ->check(whole_number())
      ->type_name("N")
      ->capture_default_str();
  command.add_option("--figures", flags.figures, "Write the figures into this folder, as SVG and PNG")
      ->type_name("DIR");
}

}  // namespace

void add_compare_rate(Program& program, Command& compare) {
  const auto flags = std::make_shared<CompareRateFlags>();
  Command* command =
      compare.add_subcommand("rate", "Heart rate against a reference: limits of agreement, errors, verdicts");
  add_study_inputs(*command, flags->inputs);
  add_study(*command, *flags);
  add_page_options(*command, flags->page);
  add_window_options(*command, flags->window);
  add_output_options(*command, flags->output, "text");
  end_help(*command,
           "pulsewright compare rate datasets/simulated/wren_stair_climb_truth_rate.csv "
           "datasets/simulated/wren_stair_climb.csv --kind pulse");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
