# Manual pages, one a command, made by help2man from the programs' own help texts: the target `manual`.
find_program(HELP2MAN help2man)
if(NOT HELP2MAN)
  message(STATUS "help2man is not here: packages will have no manual pages")
  return()
endif()

set(manual_folder ${PROJECT_BINARY_DIR}/manual)
set(manual_programs $<TARGET_FILE:foreslice>)
if(FORESLICE_STUDIO)
  list(APPEND manual_programs $<TARGET_FILE:foreslice-studio>)
endif()
add_custom_target(manual
  COMMAND ${CMAKE_COMMAND} -DHELP2MAN=${HELP2MAN} "-DPROGRAMS=${manual_programs}" -DVERSION=${PROJECT_VERSION}
          -DFOLDER=${manual_folder} -P ${CMAKE_CURRENT_SOURCE_DIR}/make_manual.cmake
  DEPENDS foreslice VERBATIM)
if(FORESLICE_STUDIO)
  add_dependencies(manual foreslice-studio)
endif()
install(CODE "execute_process(COMMAND \"${CMAKE_COMMAND}\" --build \"${PROJECT_BINARY_DIR}\" --target manual
                              COMMAND_ERROR_IS_FATAL ANY OUTPUT_QUIET)" COMPONENT program)
install(DIRECTORY ${manual_folder}/ DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program)
