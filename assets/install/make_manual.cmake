# cmake -DHELP2MAN=... -DPROGRAMS=a;b -DVERSION=x -DFOLDER=out -P make_manual.cmake
file(REMOVE_RECURSE ${FOLDER})
file(MAKE_DIRECTORY ${FOLDER})

# The page of one program, or of one of its commands: `title` is its file's name.
function(make_page title summary)
  string(REPLACE ";" " " call "${ARGN}")
  execute_process(COMMAND ${HELP2MAN} --no-info --no-discard-stderr --version-string ${VERSION} -n "${summary}"
                          --manual "Foreslice" ${call}
                  OUTPUT_VARIABLE page COMMAND_ERROR_IS_FATAL ANY)
  # A page is named in one word; examples keep their lines; pages of one version are the same on every day.
  string(REGEX REPLACE "(\n\\.SH NAME\n)[^\\\n]*" "\\1${title} " page "${page}")
  string(REGEX REPLACE "(\\.SS \"Examples?:\"\n)\\.IP\n" "\\1.IP\n.nf\n" page "${page}")
  string(REGEX REPLACE "\\.TH [A-Z-]+ \"1\" \"[^\"]*\"" ".TH ${title} 1 \"\"" page "${page}")
  file(WRITE ${FOLDER}/${title}.1 "${page}")
  execute_process(COMMAND gzip -9n ${FOLDER}/${title}.1 COMMAND_ERROR_IS_FATAL ANY)
endfunction()

foreach(program ${PROGRAMS})
  get_filename_component(name ${program} NAME)
  execute_process(COMMAND ${program} --help OUTPUT_VARIABLE help COMMAND_ERROR_IS_FATAL ANY)
  string(REGEX MATCH "^[^\n]*" summary "${help}")
  make_page(${name} "${summary}" ${program})
  string(REGEX MATCH "Subcommands:\n((  [^\n]*\n)+)" commands "${help}")
  string(REPLACE ";" "," commands "${CMAKE_MATCH_1}")
  string(REPLACE "\n" ";" commands "${commands}")
  foreach(line ${commands})
    if(line MATCHES "^  ([a-z]+) +(.*)$")
      make_page(${name}-${CMAKE_MATCH_1} "${CMAKE_MATCH_2}" "${program} ${CMAKE_MATCH_1}")
    endif()
  endforeach()
endforeach()
