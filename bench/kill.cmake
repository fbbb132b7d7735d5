find_package(CLI11 REQUIRED)
add_executable(bench_kill ${CMAKE_CURRENT_LIST_DIR}/kill.cpp
               ${CMAKE_CURRENT_LIST_DIR}/http_client.cpp
               ${CMAKE_CURRENT_LIST_DIR}/server_process.cpp)
target_link_libraries(bench_kill PRIVATE base fmt::fmt CLI11::CLI11 Threads::Threads)
target_compile_definitions(bench_kill PRIVATE ROLLWRIGHT_PROGRAM="$<TARGET_FILE:rollwright>"
                                              ROLLWRIGHT_DEMO="${PROJECT_SOURCE_DIR}/data/demo")
add_dependencies(bench_kill rollwright)
