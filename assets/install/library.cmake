# The rooms below the windows, for other programs:
#   find_package(foreslice REQUIRED)
#   target_link_libraries(mine PRIVATE foreslice::picture)
# tests/example is such a program.
include(CMakePackageConfigHelpers)
set(package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/foreslice)

foreach(room foundation colour batter flow design picture)
  install(TARGETS foreslice_${room} EXPORT foreslice ARCHIVE COMPONENT development)
  set_target_properties(foreslice_${room} PROPERTIES EXPORT_NAME ${room})
  install(DIRECTORY ${PROJECT_SOURCE_DIR}/src/${room} DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/foreslice
          COMPONENT development FILES_MATCHING PATTERN "*.h" PATTERN "internal" EXCLUDE)
endforeach()
install(EXPORT foreslice NAMESPACE foreslice:: DESTINATION ${package_folder} COMPONENT development
        FILE foresliceTargets.cmake)
configure_package_config_file(foresliceConfig.cmake.in ${CMAKE_CURRENT_BINARY_DIR}/foresliceConfig.cmake
                              INSTALL_DESTINATION ${package_folder})
write_basic_package_version_file(${CMAKE_CURRENT_BINARY_DIR}/foresliceConfigVersion.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/foresliceConfig.cmake
              ${CMAKE_CURRENT_BINARY_DIR}/foresliceConfigVersion.cmake
        DESTINATION ${package_folder} COMPONENT development)
