# Writes OUTPUT, a C++ file that holds the text of each of FILES.
set(table "")
foreach(file ${FILES})
  get_filename_component(name ${file} NAME)
  file(READ ${file} text)
  string(FIND "${text}" ")embedded\"" clash)
  if(NOT clash EQUAL -1)
    message(FATAL_ERROR "${file} holds the mark that ends a text: )embedded\"")
  endif()
  string(APPEND table "    {\"${name}\", R\"embedded(${text})embedded\"},\n")
endforeach()
file(
  WRITE ${OUTPUT}
  "// Made by tools/cmake/write_embedded.cmake.
#include \"embedded_text.hpp\"

#include <string>

#include \"pulsewright/error.hpp\"

namespace pulsewright {
namespace {

constexpr EmbeddedText texts[] = {
${table}};

}  // namespace

const EmbeddedText& embedded_text(std::string_view name) {
  for (const EmbeddedText& text : texts)
    if (text.name == name) return text;
  throw Error(ErrorCode::contract, \"no text is built in as \" + std::string(name));
}

}  // namespace pulsewright
")
