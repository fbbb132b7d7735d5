find_package(CLI11 REQUIRED)
add_executable(bench_two_years ${CMAKE_CURRENT_LIST_DIR}/two_years.cpp)
target_link_libraries(bench_two_years PRIVATE simulated_shop CLI11::CLI11)
target_compile_definitions(bench_two_years PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
