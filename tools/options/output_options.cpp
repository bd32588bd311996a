#include "output_options.hpp"

#include <filesystem>

#include "pulsewright/error.hpp"
#include "standard_streams.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {

void add_output_options(Command& command, OutputFlags& flags, const std::string& default_format,
                        const std::vector<std::string>& formats) {
  std::string names;
  for (const std::string& format : formats) names += (names.empty() ? "" : "|") + format;
  flags.format = default_format;
  command.add_option("--format", flags.format, "A page to read, rows, or a document for programs")
      ->check(one_of(formats))
      ->type_name(names)
      ->capture_default_str();
  command
      .add_option("--locale", flags.locale,
                  "Write CSV for a spreadsheet set to this language: de gives decimal commas and semicolons")
      ->type_name("NAME");
  command
      .add_option("--out", flags.out,
                  "Write into this folder instead, which is made; one that holds something is refused")
      ->type_name("DIR");
  command.add_flag("--overwrite", flags.overwrite, "Write into the folder of --out even if it holds something");
}

NumberStyle number_style(const OutputFlags& flags) {
  const std::optional<NumberStyle> style = spreadsheet_style(flags.locale);
  if (!style)
    throw Error(ErrorCode::usage,
                "--locale: '" + flags.locale + "' is not a language we know; give one like de, fr, pl or en");
  return *style;
}

void prepare_output(const OutputFlags& flags) {
  namespace fs = std::filesystem;
  static_cast<void>(number_style(flags));  // refused before any work
  if (flags.out.empty()) {
    if (flags.overwrite) throw Error(ErrorCode::usage, "--overwrite goes with --out");
    return;
  }
  std::error_code failure;
  const fs::path folder = flags.out;
  if (fs::exists(folder, failure) && !fs::is_directory(folder, failure))
    throw Error(ErrorCode::usage, "--out: " + flags.out + " is a file, not a folder");
  fs::create_directories(folder, failure);
  if (failure) throw Error(ErrorCode::unwritable, flags.out + ": the folder cannot be made: " + failure.message());
  const bool empty = fs::is_empty(folder, failure);
  if (failure) throw Error(ErrorCode::unwritable, flags.out + ": the folder cannot be read: " + failure.message());
  if (!empty && !flags.overwrite)
    throw Error(ErrorCode::usage, "--out: " + flags.out + " is not empty; name another folder, or add --overwrite");
}

std::string render(const OutputFlags& flags, const Forms& forms) {
  if (flags.format == "csv") return forms.csv(number_style(flags));
  if (flags.format == "json") return forms.json();
  if (flags.format == "jsonl") return forms.jsonl();
  const bool drawn = forms.drawing && flags.out.empty() && drawings_wanted();
  return drawn ? forms.drawing() + "\n" + forms.text() : forms.text();
}

void deliver(const OutputFlags& flags, const std::string& name, const Forms& forms) {
  if (flags.out.empty()) {
    print(render(flags, forms));
    return;
  }
  const std::string file = name + "." + (flags.format == "text" ? "txt" : flags.format);
  write_file(std::filesystem::path(flags.out) / file, render(flags, forms));
  tell_files(flags, {file});
}

void tell_files(const OutputFlags& flags, const std::vector<std::string>& names) {
  std::string list;
  for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
  talk_note("written to " + flags.out + ": " + list);
}

}  // namespace pulsewright::program
