find_package(CLI11 REQUIRED)
add_executable(bench_spec_ratio ${CMAKE_CURRENT_LIST_DIR}/spec_ratio.cpp)
target_link_libraries(bench_spec_ratio PRIVATE spec_trials fmt::fmt CLI11::CLI11)
