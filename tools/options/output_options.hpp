/// Options that say in what form a result appears, and where.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "command_line.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::program {

struct OutputFlags {
  std::string format;
  std::string locale = "C";
  std::string out;
  bool overwrite = false;
};

/// A result in each form; made only when asked for.
struct Forms {
  std::function<std::string()> text;
  std::function<std::string(const NumberStyle&)> csv;
  std::function<std::string()> json;
  std::function<std::string()> jsonl = {};  ///< of commands that have it: an object a line
  std::function<std::string()> drawing =
      {};  ///< of commands that have it: lines above the text on a terminal that can show them
};

/// --format (with the command's default), --locale, --out, --overwrite.
void add_output_options(Command& command, OutputFlags& flags, const std::string& default_format,
                        const std::vector<std::string>& formats = {"text", "csv", "json"});

/// How numbers are written in CSV. Throws Error{usage} for a locale that is not known.
[[nodiscard]] NumberStyle number_style(const OutputFlags& flags);

/// To be called before long work: makes the folder of --out. Throws Error{usage} when it is a file, or holds something and --overwrite
/// is not given; Error{unwritable} when it cannot be made.
void prepare_output(const OutputFlags& flags);

/// The result in the asked form.
[[nodiscard]] std::string render(const OutputFlags& flags, const Forms& forms);

/// Prints the result in the asked form, or writes it to DIR/NAME.txt, .csv or .json.
void deliver(const OutputFlags& flags, const std::string& name, const Forms& forms);

/// Tells where the files lie.
void tell_files(const OutputFlags& flags, const std::vector<std::string>& names);

}  // namespace pulsewright::program
