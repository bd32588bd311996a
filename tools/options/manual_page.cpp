#include "manual_page.hpp"

namespace pulsewright::program {
namespace {

/// Text as roff shows it: no escapes, no hyphens for minus signs, no line taken for a macro.
std::string plain(const std::string& text) {
  std::string shown;
  bool begins_line = true;
  for (const char c : text) {
    if (begins_line && (c == '.' || c == '\'')) shown += "\\&";
    if (c == '\\')
      shown += "\\e";
    else if (c == '-')
      shown += "\\-";
    else
      shown += c;
    begins_line = c == '\n';
  }
  return shown;
}

std::string synopsis_of(const std::string& name, const CommandDescription& command) {
  std::string line = ".B " + plain(name) + "\n";
  for (const OptionDescription& option : command.options)
    if (option.positional) line += plain(option.required ? option.name : "[" + option.name + "]") + "\n";
  line += "[options]\n";
  return line;
}

void write_options(std::string& page, const CommandDescription& command) {
  for (const OptionDescription& option : command.options) {
    page +=
        ".TP\n\\fB" + plain(option.name) + "\\fR" + (option.type.empty() ? "" : " \\fI" + plain(option.type) + "\\fR");
    page += "\n" + plain(option.help);
    if (!option.usual.empty()) page += " (" + plain(option.usual) + " unless given)";
    page += "\n";
  }
}

void write_command(std::string& page, const std::string& above, const CommandDescription& command) {
  const std::string name = above + " " + command.name;
  page += ".SS " + plain(name) + "\n" + plain(command.help) + ".\n.PP\n";
  if (command.commands.empty()) {
    page += synopsis_of(name, command);
    write_options(page, command);
    const std::size_t end = command.ending.find("\n\nExit codes:");
    page += ".PP\n.nf\n" + plain(command.ending.substr(0, end)) + "\n.fi\n";
  }
  for (const CommandDescription& below : command.commands) write_command(page, name, below);
}

}  // namespace

std::string manual_page(const CommandDescription& program, const std::string& version) {
  std::string page = ".TH PULSEWRIGHT 1 \"\" \"pulsewright " + version + "\" \"User commands\"\n";
  page += ".SH NAME\npulsewright \\- heart rate, variability and effort from raw ECG or optical pulse\n";
  page += ".SH SYNOPSIS\n.B pulsewright\n.I command\n[options]\n";
  page +=
      ".SH DESCRIPTION\n" + plain(program.help) + "\n.PP\nIt is not a medical device, and nothing in it diagnoses.\n";
  page += ".SH OPTIONS\n";
  write_options(page, program);
  page += ".SH COMMANDS\n";
  for (const CommandDescription& command : program.commands) write_command(page, program.name, command);
  page += ".SH EXIT STATUS\n.nf\n" + plain(program.ending) + "\n.fi\n";
  return page;
}

}  // namespace pulsewright::program
