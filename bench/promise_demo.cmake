find_package(CLI11 REQUIRED)
add_executable(bench_promise_demo ${CMAKE_CURRENT_LIST_DIR}/promise_demo.cpp)
target_link_libraries(bench_promise_demo PRIVATE shop fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_promise_demo PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
