# `cmake --install` lays the files where Debian wants them; `cpack -G DEB` makes the package.
if(CMAKE_INSTALL_PREFIX_INITIALIZED_TO_DEFAULT)
  set(CMAKE_INSTALL_PREFIX /usr CACHE PATH "Where to install" FORCE)
endif()
include(GNUInstallDirs)

install(TARGETS dryclockd dryclock RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
# The program looks for these in ../share/dryclock, seen from itself.
install(FILES config/films.toml config/solutions.toml config/panels.toml config/water.toml
        DESTINATION ${CMAKE_INSTALL_DATADIR}/dryclock)
install(DIRECTORY config/cases DESTINATION ${CMAKE_INSTALL_DATADIR}/dryclock)
# Where the daemon and its unit look, whatever the prefix.
install(FILES config/dryclock.toml DESTINATION /etc/dryclock)
install(FILES deploy/systemd/dryclockd.service DESTINATION lib/systemd/system)
install(FILES README.md deploy/sensors.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
# An example, not active: whose broker it is, we do not know.
install(FILES deploy/mosquitto/dryclock.conf DESTINATION ${CMAKE_INSTALL_DOCDIR}/examples/mosquitto)
install(CODE "
  foreach(shell bash zsh fish)
    execute_process(COMMAND $<TARGET_FILE:dryclock> completion \${shell}
                    OUTPUT_FILE \"${CMAKE_BINARY_DIR}/dryclock.\${shell}\" COMMAND_ERROR_IS_FATAL ANY)
  endforeach()")
install(FILES ${CMAKE_BINARY_DIR}/dryclock.bash
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME dryclock)
install(FILES ${CMAKE_BINARY_DIR}/dryclock.zsh
        DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions RENAME _dryclock)
install(FILES ${CMAKE_BINARY_DIR}/dryclock.fish
        DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d RENAME dryclock.fish)
install(CODE "
  file(MAKE_DIRECTORY \"${CMAKE_BINARY_DIR}/man\")
  execute_process(COMMAND $<TARGET_FILE:dryclock> manual
                  OUTPUT_FILE \"${CMAKE_BINARY_DIR}/man/dryclock.1\" COMMAND_ERROR_IS_FATAL ANY)
  execute_process(COMMAND \"${CMAKE_SOURCE_DIR}/deploy/man/toml_page\" \"${CMAKE_SOURCE_DIR}/config/dryclock.toml\"
                  OUTPUT_FILE \"${CMAKE_BINARY_DIR}/man/dryclock.toml.5\" COMMAND_ERROR_IS_FATAL ANY)
  execute_process(COMMAND cp \"${CMAKE_SOURCE_DIR}/deploy/man/dryclockd.8\" \"${CMAKE_BINARY_DIR}/man\" COMMAND_ERROR_IS_FATAL ANY)
  execute_process(COMMAND gzip -9nf dryclock.1 dryclock.toml.5 dryclockd.8
                  WORKING_DIRECTORY \"${CMAKE_BINARY_DIR}/man\" COMMAND_ERROR_IS_FATAL ANY)")
foreach(page dryclock.1 dryclock.toml.5 dryclockd.8)
  string(REGEX MATCH "[0-9]$" section ${page})
  install(FILES ${CMAKE_BINARY_DIR}/man/${page}.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man${section})
endforeach()

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME dryclock)
set(CPACK_PACKAGE_CONTACT "the dryclock contributors <dryclock@example.org>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "watches vehicles dry after wet-applied protective film has been laid")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION misc)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS "tzdata, fonts-dejavu-core")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS mosquitto)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA
    ${CMAKE_SOURCE_DIR}/deploy/debian/conffiles
    ${CMAKE_SOURCE_DIR}/deploy/debian/postinst
    ${CMAKE_SOURCE_DIR}/deploy/debian/prerm
    ${CMAKE_SOURCE_DIR}/deploy/debian/postrm)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
include(CPack)
