# pulsewright_embed(TARGET FILE...) builds text files into a library: `embedded_text("NAME")` of dsp/8_report/embedded_text.hpp gives them.
set(pulsewright_embed_script ${CMAKE_CURRENT_LIST_DIR}/write_embedded.cmake)

function(pulsewright_embed target)
  set(output ${CMAKE_CURRENT_BINARY_DIR}/embedded_text.cpp)
  add_custom_command(
    OUTPUT ${output}
    COMMAND ${CMAKE_COMMAND} "-DOUTPUT=${output}" "-DFILES=${ARGN}" -P ${pulsewright_embed_script}
    DEPENDS ${ARGN} ${pulsewright_embed_script}
    COMMENT "Building texts into ${target}"
    VERBATIM)
  target_sources(${target} PRIVATE ${output})
  set_source_files_properties(${output} PROPERTIES INCLUDE_DIRECTORIES ${CMAKE_CURRENT_SOURCE_DIR}/8_report)
endfunction()
