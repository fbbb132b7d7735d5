find_package(CLI11 REQUIRED)
add_executable(bench_plan_exact ${CMAKE_CURRENT_LIST_DIR}/plan_exact.cpp
               ${CMAKE_CURRENT_LIST_DIR}/plan_instances.cpp)
target_link_libraries(bench_plan_exact PRIVATE plan base fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_plan_exact PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
