/// `compare intervals`: intervals and variability against a reference.
#include <filesystem>
#include <memory>

#include "beat_list.hpp"
#include "compare_folders.hpp"
#include "compare_subcommands.hpp"
#include "help_ending.hpp"
#include "output_options.hpp"
#include "pulsewright/agreement_report.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/rate_study.hpp"
#include "standard_streams.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {
namespace {

namespace fs = std::filesystem;

struct IntervalFlags {
  InputFlags reference, test;
  double tolerance_s = 0.15;
  std::optional<double> offset_s;
  OutputFlags output;
};

BeatTrain train_of(InputFlags flags) {
  if (is_beat_list(flags.input) || flags.reference_rate) flags.form = "beats";
  return beats_of(flags);
}

/// The offset that aligns the two, a pulse's delay with it; 0 where they cannot be aligned.
double usual_delay(const BeatTrain& reference, const BeatTrain& test) {
  AlignmentOptions options;
  options.steps = AlignmentSteps::offset;
  options.only_where_demanded = false;
  const auto side = [](const BeatTrain& beats) { return RateSide{rate_over_windows(beats, clean(beats)), beats}; };
  const Alignment alignment = align(side(reference), side(test), options);
  if (alignment.refused) {
    talk_note("compared without an offset: " + alignment.note);
    return 0;
  }
  return alignment.offset.value();
}

ExitCode run(IntervalFlags flags) {
  prepare_output(flags.output);
  const bool one = flags.test.input.empty();
  if (one) {
    flags.test.input = flags.reference.input;
    if (flags.reference.channels.empty()) flags.reference.kind = "ecg";
    if (flags.test.channels.empty() && flags.test.kind == "auto") flags.test.kind = "pulse";
  }
  const BeatTrain reference = train_of(flags.reference);
  BeatTrain test = train_of(flags.test);
  const double offset_s = flags.offset_s ? *flags.offset_s : usual_delay(reference, test);
  for (Beat& beat : test.candidates) beat.time -= Seconds{offset_s};
  IntervalAgreement result =
      interval_agreement(reference, test, {.tolerance = Seconds{flags.tolerance_s}, .skip = Seconds{0}, .exclude = {}});
  result.beats.name = fs::path(flags.test.input).stem().string();
  talk_warnings(result.warnings);
  Provenance provenance = test.provenance;
  auto options = settings(flags.test);
  options["reference"] = fs::path(flags.reference.input).filename().string();
  options["tolerance_s"] = flags.tolerance_s;
  options["offset_s"] = offset_s;
  provenance.options = options.dump();
  provenance.version = version();
  deliver(flags.output, "interval_comparison",
          {[&] { return intervals_agreement_text(result); },
           [&](const NumberStyle& style) { return intervals_agreement_csv(result, style); },
           [&] { return intervals_agreement_json(result, provenance); }});
  return result.intervals.pairs > 0 ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_compare_intervals(Program& program, CLI::App& compare) {
  const auto flags = std::make_shared<IntervalFlags>();
  CLI::App* command =
      compare.add_subcommand("intervals", "Intervals beat by beat, and variability, against a reference");
  command
      ->add_option("REFERENCE", flags->reference.input, "Beats or a recording; alone, a recording with ECG and pulse")
      ->required()
      ->type_name("");
  command->add_option("TEST", flags->test.input, "Beats or a recording")->type_name("");
  add_time_options(*command, flags->test);
  add_channel_options(*command, flags->test);
  command->add_option("--reference-channel", flags->reference.channels, "Channel of the reference")
      ->type_name("NAME")
      ->allow_extra_args(false);
  command
      ->add_option("--reference-rate", flags->reference.reference_rate,
                   "Sampling rate of reference beats listed as sample numbers")
      ->check(number_above_zero())
      ->type_name("HZ");
  command->add_option("--tolerance", flags->tolerance_s, "Farthest two matched beats may be apart, after --offset")
      ->check(number_between(0.001, 1.0))
      ->type_name("SECONDS")
      ->capture_default_str();
  command
      ->add_option("--offset", flags->offset_s,
                   "Delay of the test, as of a pulse after its R peak; the one that aligns the two unless given")
      ->check(number_between(-3600, 3600))
      ->type_name("SECONDS");
  add_output_options(*command, flags->output, "text");
  end_help(*command,
           "pulsewright compare intervals datasets/simulated/heron_rest_ecg_truth_beats.csv "
           "datasets/simulated/heron_rest_ecg.csv");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
