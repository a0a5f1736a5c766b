# cmake -DBUILD=build -DNAME=archive -DPATCHELF=patchelf -P make_portable.cmake: NAME.tar.gz with the program and
# the shared libraries it needs, but for those that belong to the machine: the C and C++ runtimes, the display
# and its drivers, sound, the message bus.
set(stage ${BUILD}/portable/${NAME})
file(REMOVE_RECURSE ${BUILD}/portable)
execute_process(COMMAND ${CMAKE_COMMAND} --install ${BUILD} --component program --prefix ${stage} --strip
                COMMAND_ERROR_IS_FATAL ANY OUTPUT_QUIET)

file(GLOB programs ${stage}/bin/*)
file(GET_RUNTIME_DEPENDENCIES EXECUTABLES ${programs} RESOLVED_DEPENDENCIES_VAR libraries
     PRE_EXCLUDE_REGEXES "^ld-linux" "^lib(c|m|dl|rt|pthread|gcc_s|stdc\\+\\+)\\.so" "^lib(GL|EGL|OpenGL|drm|gbm)"
       "^lib(X|xcb|xkb|wayland|decor|ICE|SM)" "^lib(asound|pulse|sndio|jack|pipewire)"
       "^lib(dbus|systemd|udev|samplerate)")
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
file(WRITE ${stage}/README.txt
"Foreslice, unpacked and ready:
  bin/foreslice-studio   the window
  bin/foreslice          the command line; bin/foreslice --help lists its commands
Needs a Linux desktop with OpenGL and glibc 2.36 or newer (Debian 12 or later).
")
execute_process(COMMAND ${CMAKE_COMMAND} -E tar czf ${BUILD}/${NAME}.tar.gz ${NAME}
                WORKING_DIRECTORY ${BUILD}/portable COMMAND_ERROR_IS_FATAL ANY)
message(STATUS "made ${BUILD}/${NAME}.tar.gz")
