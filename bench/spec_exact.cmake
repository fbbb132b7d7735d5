find_package(CLI11 REQUIRED)
add_executable(bench_spec_exact ${CMAKE_CURRENT_LIST_DIR}/spec_exact.cpp)
target_link_libraries(bench_spec_exact PRIVATE spec_trials fmt::fmt CLI11::CLI11)
