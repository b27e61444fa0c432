# Builds the page of the desk beside the program: cmake -DFROM=page -DWORK=folder -DOUT=folder -DNPM=npm -P build_page.cmake
# Packages come by the lock file and by nothing else; what they bring is installed once for every lock file.
file(MAKE_DIRECTORY ${WORK})
file(SHA256 ${FROM}/package-lock.json lock)
set(stamp ${WORK}/installed-${lock})
if(NOT EXISTS ${stamp})
  file(REMOVE_RECURSE ${WORK})
  file(MAKE_DIRECTORY ${WORK})
  configure_file(${FROM}/package.json ${WORK}/package.json COPYONLY)
  configure_file(${FROM}/package-lock.json ${WORK}/package-lock.json COPYONLY)
  execute_process(COMMAND ${NPM} ci --no-audit --no-fund --prefer-offline WORKING_DIRECTORY ${WORK}
                  RESULT_VARIABLE failed OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(failed)
    message(FATAL_ERROR "The packages that the desk's page is built with could not be installed (npm ci). The first build "
                        "needs the network; -DRUSHLIGHT_PAGE=OFF builds without the page.\n${said}")
  endif()
  file(TOUCH ${stamp})
endif()
file(REMOVE_RECURSE ${WORK}/source)
file(COPY ${FROM}/source DESTINATION ${WORK})
foreach(name package.json build.mjs tsconfig.json)
  configure_file(${FROM}/${name} ${WORK}/${name} COPYONLY)
endforeach()
execute_process(COMMAND ${NPM} run --silent build -- --out ${OUT} WORKING_DIRECTORY ${WORK}
                RESULT_VARIABLE failed OUTPUT_VARIABLE said ERROR_VARIABLE said)
if(failed)
  message(FATAL_ERROR "The desk's page does not build:\n${said}")
endif()
