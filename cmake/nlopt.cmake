# NLopt, a library of optimisers, for second opinions in tests and benchmarks: the target hoopwright_nlopt where its
# package is installed.
include_guard(GLOBAL)
find_path(NLOPT_INCLUDE nlopt.h)
find_library(NLOPT_LIBRARY nlopt)
if(NLOPT_INCLUDE AND NLOPT_LIBRARY)
  add_library(hoopwright_nlopt INTERFACE)
  target_include_directories(hoopwright_nlopt SYSTEM INTERFACE ${NLOPT_INCLUDE})
  target_link_libraries(hoopwright_nlopt INTERFACE ${NLOPT_LIBRARY})
endif()
