#include "report_options.hpp"

#include <filesystem>

#include "figure_png.hpp"
#include "output_target.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/error.hpp"
#include "standard_streams.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {
namespace {

namespace fs = std::filesystem;

void make_folder(const fs::path& folder) {
  std::error_code failure;
  fs::create_directories(folder, failure);
  if (failure)
    throw Error(ErrorCode::unwritable, folder.string() + ": the folder cannot be made: " + failure.message());
}

void write_html(const std::string& file, const std::string& page) {
  if (fs::path(file).has_parent_path()) make_folder(fs::path(file).parent_path());
  write_file(file, page);
  talk_note("written to " + file);
}

void add_language_option(Command& command, std::string& language, const char* what) {
  command.add_option("--language", language, what)
      ->check(one_of({"en", "de", "es"}))
      ->type_name("en|de|es")
      ->capture_default_str();
}

}  // namespace

void add_page_options(Command& command, PageFlags& flags) {
  command.add_option("--report", flags.report, "Write a report to look at and to print: one HTML file")
      ->type_name("FILE.html");
  add_language_option(command, flags.language, "Language of the report");
}

void prepare_page(const PageFlags& flags) {
  check_output_target("--report", flags.report, page_begins, "page of this kind");
  if (flags.report.empty() && flags.language != PageFlags{}.language)
    throw Error(ErrorCode::usage, "--language goes with --report");
}

void write_page(const PageFlags& flags, const std::function<std::string(Language)>& make) {
  if (!flags.report.empty()) write_html(flags.report, make(language_of(flags.language).value_or(Language::english)));
}

void write_figures(const std::string& folder, const std::vector<FigureFile>& figures) {
  make_folder(folder);
  std::string names;
  for (const FigureFile& figure : figures) {
    const fs::path file = fs::path(folder) / figure.name;
    write_file(file.string() + ".svg", figure.svg);
    write_file(file.string() + ".png", png_of_svg(figure.svg));
    names += (names.empty() ? "" : ", ") + figure.name;
  }
  talk_note("written to " + folder + ", as SVG and PNG: " + names);
}

void add_report_options(Command& command, ReportFlags& flags) {
  command.add_option("--report", flags.report, "Write a report to look at and to print: one HTML file")
      ->type_name("FILE.html");
  command
      .add_option("--workings", flags.workings,
                  "Write how it was computed, step by step over a few seconds: one HTML file")
      ->type_name("FILE.html");
  command.add_option("--figures", flags.figures, "Write the figures of the report into this folder, as SVG and PNG")
      ->type_name("DIR");
  add_language_option(command, flags.language, "Language of the reports");
}

void prepare_reports(const ReportFlags& flags) {
  check_output_target("--report", flags.report, page_begins, "page of this kind");
  check_output_target("--workings", flags.workings, page_begins, "page of this kind");
  if (!flags.report.empty() && fs::path(flags.report).lexically_normal() == fs::path(flags.workings).lexically_normal())
    throw Error(ErrorCode::usage, "--report and --workings name two files; " + flags.report + " would hold only one");
  if (!flags.any() && flags.language != ReportFlags{}.language)
    throw Error(ErrorCode::usage, "--language goes with --report, --workings or --figures");
}

void write_reports(const ReportFlags& flags, const SessionView& session, const SessionEffort* course,
                   const FindOptions& options) {
  const Language language = language_of(flags.language).value_or(Language::english);
  if (!flags.report.empty())
    write_html(flags.report,
               course != nullptr ? session_report(session, *course, language) : session_report(session, language));
  if (!flags.workings.empty()) {
    if (session.chosen == nullptr)
      throw Error(ErrorCode::usage, "--workings: the input is a list, so there is no signal to follow");
    write_html(flags.workings, workings_page(session, options, language));
  }
  if (flags.figures.empty()) return;
  write_figures(flags.figures,
                course != nullptr ? session_figures(session, *course, language) : session_figures(session, language));
}

}  // namespace pulsewright::program
