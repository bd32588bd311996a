#include "program_answers.hpp"

#include "completion.hpp"
#include "manual_page.hpp"
#include "pulsewright/recording.hpp"

namespace pulsewright::program {

void add_answers(CommandLine& line) {
  const std::string name_and_version = std::string("pulsewright ") + version();
  line.program().answers("--version", "", "Display program version information and exit",
                         [=](const std::string&) { return name_and_version + "\n"; });
  line.program().answers("--manual-page", "", "Print the manual page, for man",
                         [&line](const std::string&) { return manual_page(line.describe(), version()); });
  line.program().answers("--completion", completion_shells, "Print a script by which a shell completes command lines",
                         [&line](const std::string& shell) { return completion_script(line.describe(), shell); });
}

}  // namespace pulsewright::program
