# cmake -DBUILD=build -DNAME=archive -DPATCHELF=patchelf -P make_portable.cmake: NAME.tar.gz with the program and
# the shared libraries it needs, but for those that must fit the machine: the C and C++ runtimes, OpenGL, and
# what its drivers load as well.
set(stage ${BUILD}/portable/${NAME})
file(REMOVE_RECURSE ${BUILD}/portable)
execute_process(COMMAND ${CMAKE_COMMAND} --install ${BUILD} --component program --prefix ${stage} --strip
                COMMAND_ERROR_IS_FATAL ANY OUTPUT_QUIET)

file(GLOB programs ${stage}/bin/*)
file(GET_RUNTIME_DEPENDENCIES EXECUTABLES ${programs} RESOLVED_DEPENDENCIES_VAR libraries
     PRE_EXCLUDE_REGEXES "^ld-linux" "^lib(c|m|dl|rt|pthread|resolv|gcc_s|stdc\\+\\+)\\.so"
       "^lib(GL|EGL|OpenGL|drm|gbm)" "^libwayland-client")
file(MAKE_DIRECTORY ${stage}/lib/foreslice)
foreach(library ${libraries})
  file(REAL_PATH ${library} real)
  get_filename_component(name ${library} NAME)
  file(COPY_FILE ${real} ${stage}/lib/foreslice/${name})
endforeach()
foreach(program ${programs})
  execute_process(COMMAND ${PATCHELF} --set-rpath "\$ORIGIN/../lib/foreslice" ${program}
                  COMMAND_ERROR_IS_FATAL ANY)
endforeach()
foreach(library ${libraries})
  get_filename_component(name ${library} NAME)
  execute_process(COMMAND ${PATCHELF} --set-rpath "\$ORIGIN" ${stage}/lib/foreslice/${name}
                  COMMAND_ERROR_IS_FATAL ANY)
endforeach()
# Their licences, where the system's packages say them.
find_program(DPKG_QUERY dpkg-query)
foreach(library ${libraries})
  file(REAL_PATH ${library} real)
  execute_process(COMMAND ${DPKG_QUERY} -S ${real} OUTPUT_VARIABLE owner ERROR_QUIET)
  if(owner MATCHES "^([a-z0-9.+-]+)" AND EXISTS /usr/share/doc/${CMAKE_MATCH_1}/copyright)
    file(COPY_FILE /usr/share/doc/${CMAKE_MATCH_1}/copyright ${stage}/lib/foreslice/licence-${CMAKE_MATCH_1}.txt)
  endif()
endforeach()
file(WRITE ${stage}/README.txt
"Foreslice, unpacked and ready:
  bin/foreslice-studio   the window
  bin/foreslice          the command line; bin/foreslice --help lists its commands
  lib/foreslice          libraries of others, each with its licence
Needs a Linux desktop with OpenGL and glibc 2.36 or newer (Debian 12 or later).
")
execute_process(COMMAND ${CMAKE_COMMAND} -E tar czf ${BUILD}/${NAME}.tar.gz ${NAME}
                WORKING_DIRECTORY ${BUILD}/portable COMMAND_ERROR_IS_FATAL ANY)
message(STATUS "made ${BUILD}/${NAME}.tar.gz")
