find_package(CLI11 REQUIRED)
add_executable(bench_j30_sample ${CMAKE_CURRENT_LIST_DIR}/j30_sample.cpp
               ${CMAKE_CURRENT_LIST_DIR}/plan_instances.cpp)
target_link_libraries(bench_j30_sample PRIVATE plan base fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_j30_sample PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
