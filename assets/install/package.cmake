# `cpack -G DEB` in the build folder makes two Debian packages, of the program and for developers; the target
# `portable` makes an archive that is unpacked anywhere and run.
set(CPACK_PACKAGE_NAME foreslice)
set(CPACK_PACKAGE_VENDOR "The Foreslice authors")
set(CPACK_PACKAGE_CONTACT "The Foreslice authors <authors@foreslice.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "cut faces of a swirled soap loaf before any batter is mixed")
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION
"Foreslice is for makers of cold-process soap. It computes the slow flow of
thick batter round the wire, carries the poured layers along it, predicts
each portion's colour from its doses and draws the faces of the bars; it
sizes the batch to the mould and prints the bench sheet.")
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program development)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_VERBATIM_VARIABLES ON)

set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME foreslice)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION graphics)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS "libegl1, libgl1")  # loaded at run time by SDL
set(CPACK_DEBIAN_PROGRAM_PACKAGE_RECOMMENDS "libgl1-mesa-dri, zenity | kdialog")
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libforeslice-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS
  "libeigen3-dev, liblcms2-dev, libnlopt-dev, libcairo2-dev, libharfbuzz-dev, libqrencode-dev, zlib1g-dev, pkg-config")
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION
"What the program Foreslice computes with, as static libraries and headers.")

include(CPack)

# The portable archive has its own target: its binaries look for libraries beside them, those of the Debian
# package must not.
find_program(PATCHELF patchelf)
if(NOT PATCHELF)
  message(STATUS "patchelf is not here: no target `portable`")
  return()
endif()
add_custom_target(portable
  COMMAND ${CMAKE_COMMAND} -DBUILD=${PROJECT_BINARY_DIR} -DPATCHELF=${PATCHELF}
          -DNAME=foreslice-${PROJECT_VERSION}-${CMAKE_SYSTEM_PROCESSOR} -P ${CMAKE_CURRENT_SOURCE_DIR}/make_portable.cmake
  VERBATIM)
add_dependencies(portable foreslice)
if(FORESLICE_STUDIO)
  add_dependencies(portable foreslice-studio)
endif()
