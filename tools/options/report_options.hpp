/// Options that ask for reports people look at, and the writing of them.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "command_line.hpp"
#include "pulsewright/report.hpp"
#include "pulsewright/session.hpp"

namespace pulsewright::program {

struct ReportFlags {
  std::string report;
  std::string workings;
  std::string figures;
  std::string language = "en";

  [[nodiscard]] bool any() const { return !report.empty() || !workings.empty() || !figures.empty(); }
};

/// A single page about the whole result: --report and --language, of commands that have no other.
struct PageFlags {
  std::string report;
  std::string language = "en";
};
void add_page_options(Command& command, PageFlags& flags);
/// As `prepare_reports`.
void prepare_page(const PageFlags& flags);
/// Makes and writes the page when it was asked for, and tells where it lies.
void write_page(const PageFlags& flags, const std::function<std::string(Language)>& make);

/// Writes figures into a folder, which is made, as SVG and PNG, and tells their names.
void write_figures(const std::string& folder, const std::vector<FigureFile>& figures);

/// --report, --workings, --figures, --language.
void add_report_options(Command& command, ReportFlags& flags);

/// To be called before long work. Throws Error{usage} for a file that is a folder, and for --language without a report.
void prepare_reports(const ReportFlags& flags);

/// Writes what was asked for and tells where it lies. Throws Error{usage} when the workings are asked of a list of beats, and what `write_file` throws.
/// `course` is what is known of the same rates beyond the time account; null where nothing is.
void write_reports(const ReportFlags& flags, const SessionView& session, const SessionEffort* course,
                   const FindOptions& options);

}  // namespace pulsewright::program
