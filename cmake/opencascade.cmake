# OpenCASCADE's modelling kernel, for second opinions in tests and benchmarks: the target hoopwright_opencascade where its
# packages are installed. By hand, as the packages' own CMake files ask for development files of TBB that nobody needs here.
# One header of the modelling packages lies in the visualization one, so that what is found is tried before it is used.
include_guard(GLOBAL)
include(CheckCXXSourceCompiles)
find_path(OPENCASCADE_INCLUDE BRepAlgoAPI_Cut.hxx PATH_SUFFIXES opencascade)
set(libraries)
foreach(name TKBO TKPrim TKTopAlgo TKGeomAlgo TKBRep TKGeomBase TKG3d TKG2d TKMath TKernel)
  find_library(OPENCASCADE_${name} ${name})
  list(APPEND libraries ${OPENCASCADE_${name}})
endforeach()
if(OPENCASCADE_INCLUDE AND NOT libraries MATCHES NOTFOUND)
  set(CMAKE_REQUIRED_INCLUDES ${OPENCASCADE_INCLUDE})
  set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
  check_cxx_source_compiles("#include <BRepAlgoAPI_Cut.hxx>
    #include <BRepPrimAPI_MakeTorus.hxx>" OPENCASCADE_COMPILES)
  unset(CMAKE_TRY_COMPILE_TARGET_TYPE)
  unset(CMAKE_REQUIRED_INCLUDES)
endif()
if(OPENCASCADE_COMPILES)
  add_library(hoopwright_opencascade INTERFACE)
  target_include_directories(hoopwright_opencascade SYSTEM INTERFACE ${OPENCASCADE_INCLUDE})
  target_link_libraries(hoopwright_opencascade INTERFACE ${libraries})
endif()
# Its reader of STEP files with names and colours, where that is installed too: hoopwright_opencascade_step.
set(step_libraries)
foreach(name TKXDESTEP TKXCAF TKLCAF TKCAF TKCDF TKSTEP TKXSBase)
  find_library(OPENCASCADE_${name} ${name})
  list(APPEND step_libraries ${OPENCASCADE_${name}})
endforeach()
find_path(OPENCASCADE_STEP_INCLUDE STEPCAFControl_Reader.hxx PATH_SUFFIXES opencascade)
find_path(OPENCASCADE_CAF_INCLUDE XCAFDoc_ShapeTool.hxx PATH_SUFFIXES opencascade)
if(TARGET hoopwright_opencascade AND OPENCASCADE_STEP_INCLUDE AND OPENCASCADE_CAF_INCLUDE
   AND NOT step_libraries MATCHES NOTFOUND AND NOT TARGET hoopwright_opencascade_step)
  add_library(hoopwright_opencascade_step INTERFACE)
  target_link_libraries(hoopwright_opencascade_step INTERFACE ${step_libraries} hoopwright_opencascade)
  # Headers of that version still derive from std::iterator.
  target_compile_options(hoopwright_opencascade_step INTERFACE -Wno-deprecated-declarations)
endif()
