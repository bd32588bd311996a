#include "completion.hpp"

#include <fmt/format.h>

#include "pulsewright/error.hpp"

namespace pulsewright::program {
namespace {

/// The words that a value is chosen from: `auto|ecg|pulse` without the bars; empty where it is no such choice.
std::string words_of(const OptionDescription& option) {
  std::string words;
  bool chosen = false;
  for (const char c : option.type) {
    if (c == '|') chosen = true;
    if (c >= 'A' && c <= 'Z') return {};
    words += c == '|' ? ' ' : c;
  }
  return chosen ? words : std::string{};
}

std::string names_of(const CommandDescription& command) {
  std::string names;
  for (const CommandDescription& below : command.commands) names += (names.empty() ? "" : " ") + below.name;
  for (const OptionDescription& option : command.options)
    if (!option.positional) names += (names.empty() ? "" : " ") + option.name;
  return names;
}

/// Calls `visit(path, command)` for a command and all below it; the path is the words after the program's name.
template <typename Visit>
void each_command(const CommandDescription& command, const std::string& path, const Visit& visit) {
  visit(path, command);
  for (const CommandDescription& below : command.commands)
    each_command(below, path.empty() ? below.name : path + " " + below.name, visit);
}

/// Functions that both bash and zsh run: the command typed so far, what may follow it, and what an option's value may be.
std::string word_tables(const CommandDescription& program) {
  std::string names, values;
  each_command(program, "", [&](const std::string& path, const CommandDescription& command) {
    names += fmt::format("    '{}') echo '{}' ;;\n", path, names_of(command));
    for (const OptionDescription& option : command.options)
      if (const std::string words = words_of(option); !words.empty())
        values += fmt::format("    '{} {}') echo '{}' ;;\n", path, option.name, words);
  });
  return "_pulsewright_names() {\n  case \"$1\" in\n" + names +
         "  esac\n}\n_pulsewright_values() {\n  case \"$1\" in\n" + values +
         "  esac\n}\n"
         "_pulsewright_path() {\n  local path= word\n  for word in \"$@\"; do\n"
         "    case \"$word\" in -*) continue ;; esac\n"
         "    if [ -n \"$(_pulsewright_names \"${path:+$path }$word\")\" ]; then path=\"${path:+$path }$word\"; fi\n"
         "  done\n  echo \"$path\"\n}\n";
}

std::string bash_script(const CommandDescription& program) {
  return word_tables(program) +
         "_pulsewright() {\n"
         "  local path word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} words\n"
         "  path=$(_pulsewright_path \"${COMP_WORDS[@]:1:COMP_CWORD-1}\")\n"
         "  words=$(_pulsewright_values \"$path $before\")\n"
         "  if [ -z \"$words\" ]; then\n"
         "    case \"$word\" in -*) words=$(_pulsewright_names \"$path\") ;;\n"
         "      *) case \"$before\" in --*) ;; *) words=$(_pulsewright_names \"$path\" | tr ' ' '\\n' | grep -v '^-') "
         ";; esac ;;\n"
         "    esac\n  fi\n"
         "  COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n"
         "  if [ \"${#COMPREPLY[@]}\" -eq 0 ]; then COMPREPLY=($(compgen -f -- \"$word\")); fi\n"
         "}\n"
         "complete -o filenames -F _pulsewright pulsewright\n";
}

std::string zsh_script(const CommandDescription& program) {
  return "#compdef pulsewright\n" + word_tables(program) +
         "_pulsewright() {\n"
         "  local at=\"$(_pulsewright_path ${words[2,CURRENT-1]})\" choice\n"
         "  choice=\"$(_pulsewright_values \"$at ${words[CURRENT-1]}\")\"\n"
         "  if [[ -z $choice && ( $PREFIX == -* || ${words[CURRENT-1]} != --* ) ]]; then choice=\"$(_pulsewright_names "
         "\"$at\")\"; fi\n"
         "  [[ -n $choice ]] && compadd -- ${=choice}\n"
         "  _files\n"
         "}\n"
         "_pulsewright \"$@\"\n";
}

std::string in_quotes(const std::string& text) {
  std::string inside;
  for (const char c : text) inside += c == '\'' || c == '\\' ? std::string("\\") + c : std::string(1, c);
  return "'" + inside + "'";
}

std::string fish_script(const CommandDescription& program) {
  std::string script;
  each_command(program, "", [&](const std::string& path, const CommandDescription& command) {
    std::string where = path.empty() ? "__fish_use_subcommand" : "";
    for (std::size_t begin = 0; begin < path.size();) {
      const std::size_t end = std::min(path.find(' ', begin), path.size());
      where += (where.empty() ? "" : "; and ") + ("__fish_seen_subcommand_from " + path.substr(begin, end - begin));
      begin = end + 1;
    }
    const std::string line = "complete -c pulsewright -n " + in_quotes(where);
    for (const CommandDescription& below : command.commands)
      script += line + " -a " + below.name + " -d " + in_quotes(below.help) + "\n";
    for (const OptionDescription& option : command.options) {
      if (option.positional) continue;
      const std::string words = words_of(option);
      script += line + " -l " + option.name.substr(option.name.find_first_not_of('-')) +
                (option.type.empty() ? ""
                 : words.empty()     ? " -r"
                                     : " -x -a " + in_quotes(words)) +
                " -d " + in_quotes(option.help) + "\n";
    }
  });
  return script;
}

}  // namespace

std::string completion_script(const CommandDescription& program, const std::string& shell) {
  if (shell == "bash") return bash_script(program);
  if (shell == "zsh") return zsh_script(program);
  if (shell == "fish") return fish_script(program);
  throw Error(ErrorCode::usage, "--completion: '" + shell + "' is none of bash, zsh, fish");
}

}  // namespace pulsewright::program
