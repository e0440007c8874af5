# find_package(tabmelt): tabmelt::solver computes, tabmelt::verdict judges, tabmelt::catalogue names
# every number of a result.
include(CMakeFindDependencyMacro)
find_dependency(Eigen3 3.4 NO_MODULE)
find_dependency(Boost 1.74)
find_dependency(fmt)
include(${CMAKE_CURRENT_LIST_DIR}/tabmelt-targets.cmake)
