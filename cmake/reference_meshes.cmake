# Libraries for second opinions on distances to meshes, in tests and benchmarks: the targets hoopwright_fcl and
# hoopwright_embree where their packages are installed. By hand: FCL's own CMake files ask for packages nobody needs here.
# Both are linked as they come: never with -march=native, which changes how Eigen lays out what FCL is given.
include_guard(GLOBAL)
find_path(FCL_INCLUDE fcl/fcl.h)
find_library(FCL_LIBRARY fcl)
find_library(CCD_LIBRARY ccd)
if(FCL_INCLUDE AND FCL_LIBRARY AND CCD_LIBRARY)
  add_library(hoopwright_fcl INTERFACE)
  target_include_directories(hoopwright_fcl SYSTEM INTERFACE ${FCL_INCLUDE})
  target_link_libraries(hoopwright_fcl INTERFACE ${FCL_LIBRARY} ${CCD_LIBRARY} Eigen3::Eigen)
endif()
find_path(EMBREE_INCLUDE embree3/rtcore.h)
find_library(EMBREE_LIBRARY embree3)
if(EMBREE_INCLUDE AND EMBREE_LIBRARY)
  add_library(hoopwright_embree INTERFACE)
  target_include_directories(hoopwright_embree SYSTEM INTERFACE ${EMBREE_INCLUDE})
  target_link_libraries(hoopwright_embree INTERFACE ${EMBREE_LIBRARY})
endif()
