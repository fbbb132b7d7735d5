find_package(CLI11 REQUIRED)
add_executable(bench_spec_why ${CMAKE_CURRENT_LIST_DIR}/spec_why.cpp)
target_link_libraries(bench_spec_why PRIVATE spec_trials fmt::fmt CLI11::CLI11)
