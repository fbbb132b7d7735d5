find_package(CLI11 REQUIRED)
add_executable(bench_plan_desk ${CMAKE_CURRENT_LIST_DIR}/plan_desk.cpp)
target_link_libraries(bench_plan_desk PRIVATE shop fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_plan_desk PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
