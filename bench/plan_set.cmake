find_package(CLI11 REQUIRED)
add_executable(bench_plan_set ${CMAKE_CURRENT_LIST_DIR}/plan_set.cpp
               ${CMAKE_CURRENT_LIST_DIR}/plan_quality.cpp
               ${CMAKE_CURRENT_LIST_DIR}/plan_instances.cpp)
target_link_libraries(bench_plan_set PRIVATE plan base fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_plan_set PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
