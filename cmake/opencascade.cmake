# OpenCASCADE's modelling kernel, for second opinions in tests and benchmarks: the target hoopwright_opencascade where its
# packages are installed. By hand, as the packages' own CMake files ask for development files of TBB that nobody needs here.
include_guard(GLOBAL)
find_path(OPENCASCADE_INCLUDE BRepAlgoAPI_Cut.hxx PATH_SUFFIXES opencascade)
set(libraries)
foreach(name TKBO TKPrim TKTopAlgo TKGeomAlgo TKBRep TKGeomBase TKG3d TKG2d TKMath TKernel)
  find_library(OPENCASCADE_${name} ${name})
  list(APPEND libraries ${OPENCASCADE_${name}})
endforeach()
if(OPENCASCADE_INCLUDE AND NOT libraries MATCHES NOTFOUND)
  add_library(hoopwright_opencascade INTERFACE)
  target_include_directories(hoopwright_opencascade SYSTEM INTERFACE ${OPENCASCADE_INCLUDE})
  target_link_libraries(hoopwright_opencascade INTERFACE ${libraries})
endif()
