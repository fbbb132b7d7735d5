find_package(CLI11 REQUIRED)
add_executable(bench_spec_latency ${CMAKE_CURRENT_LIST_DIR}/spec_latency.cpp)
target_link_libraries(bench_spec_latency PRIVATE spec_trials fmt::fmt CLI11::CLI11)
