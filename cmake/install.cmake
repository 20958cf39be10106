# What `cmake --install` puts where, and the Debian package that CPack makes of it (cmake/package).
include(GNUInstallDirs)
set(desktop ${PROJECT_SOURCE_DIR}/data/desktop)

# The man page is the program's own help.
find_program(GZIP gzip)
set(man ${CMAKE_BINARY_DIR}/hoopwright.1)
add_custom_command(OUTPUT ${man} DEPENDS hoopwright VERBATIM
  COMMAND hoopwright --man > ${man})
set(pages ${man})
if(GZIP)
  add_custom_command(OUTPUT ${man}.gz DEPENDS ${man} COMMAND ${GZIP} -9nc ${man} > ${man}.gz VERBATIM)
  add_custom_command(OUTPUT ${CMAKE_BINARY_DIR}/changelog.gz DEPENDS ${desktop}/changelog VERBATIM
    COMMAND ${GZIP} -9nc ${desktop}/changelog > ${CMAKE_BINARY_DIR}/changelog.gz)
  set(pages ${man}.gz)
  set(changes ${CMAKE_BINARY_DIR}/changelog.gz)
endif()
add_custom_target(hoopwright_man ALL DEPENDS ${pages} ${changes})

install(TARGETS hoopwright RUNTIME)
install(FILES ${pages} DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
# app/window/app_paths.h looks for the data here.
foreach(kind cages cars drivers rules stock)
  install(DIRECTORY ${PROJECT_SOURCE_DIR}/data/${kind} DESTINATION ${CMAKE_INSTALL_DATADIR}/hoopwright/data
    FILES_MATCHING PATTERN "*.yaml")
endforeach()
install(DIRECTORY ${PROJECT_SOURCE_DIR}/data/guide DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES ${desktop}/copyright ${changes} DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES ${PROJECT_SOURCE_DIR}/core/files/README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME files.md)
install(FILES ${PROJECT_SOURCE_DIR}/rules/README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME rule_tables.md)
install(FILES ${PROJECT_SOURCE_DIR}/app/commands/JSON.md DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME json.md)

# Menu entry, icons, kinds of files.
install(FILES ${desktop}/hoopwright.desktop DESTINATION ${CMAKE_INSTALL_DATADIR}/applications)
install(FILES ${desktop}/hoopwright.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/mime/packages)
set(icons ${CMAKE_INSTALL_DATADIR}/icons/hicolor)
install(FILES ${desktop}/hoopwright.svg DESTINATION ${icons}/scalable/apps)
install(FILES ${desktop}/hoopwright-file.svg DESTINATION ${icons}/scalable/mimetypes)
foreach(size 16 24 32 48 64 128 256)
  install(FILES ${desktop}/icon_${size}.png DESTINATION ${icons}/${size}x${size}/apps RENAME hoopwright.png)
  install(FILES ${desktop}/file_${size}.png DESTINATION ${icons}/${size}x${size}/mimetypes RENAME hoopwright-file.png)
endforeach()

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME hoopwright)
set(CPACK_PACKAGE_CONTACT "Hoopwright <maintainers@hoopwright.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "roll cage layout in 3D and class rule checker")
set(CPACK_PACKAGE_DESCRIPTION
"Lays a roll cage over a measured car before any tube is cut: bars bent to the
shop's dies and coped to what they land on, the driver in the seat, the tables
of its class checked while it is drawn, the tube order, bend and cope sheets.
It plans; it certifies nothing.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION graphics)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-inter")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "libgl1-mesa-dri, libegl-mesa0, shared-mime-info, desktop-file-utils, qt6-wayland")
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE
  WORLD_READ WORLD_EXECUTE)
include(CPack)
