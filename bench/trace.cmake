find_package(CLI11 REQUIRED)
add_executable(bench_trace ${CMAKE_CURRENT_LIST_DIR}/trace.cpp
               ${CMAKE_CURRENT_LIST_DIR}/invented_years.cpp
               ${CMAKE_CURRENT_LIST_DIR}/http_client.cpp
               ${CMAKE_CURRENT_LIST_DIR}/server_process.cpp)
target_link_libraries(bench_trace PRIVATE book fmt::fmt CLI11::CLI11 Threads::Threads)
target_compile_definitions(bench_trace PRIVATE ROLLWRIGHT_PROGRAM="$<TARGET_FILE:rollwright>"
                                               ROLLWRIGHT_DEMO="${PROJECT_SOURCE_DIR}/data/demo")
add_dependencies(bench_trace rollwright)
