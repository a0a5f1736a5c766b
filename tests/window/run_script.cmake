# Runs the studio with one script in a folder of its own, so that autosaves and settings of one test never meet
# another's. cmake -DSTUDIO=... -DSCRIPT=name -DSOURCE=... -DDATA=... -DWORK=... -P run_script.cmake
file(REMOVE_RECURSE ${WORK})
file(MAKE_DIRECTORY ${WORK}/state)
file(COPY ${DATA}/ DESTINATION ${WORK})
file(COPY ${SOURCE}/scripts/ DESTINATION ${WORK})
set(ENV{SDL_VIDEODRIVER} offscreen)
set(size 1280x720)
# A script may come in parts: name.txt, then name-2.txt ..., each a run of its own on what the one before left.
file(GLOB parts RELATIVE ${WORK} ${WORK}/${SCRIPT}.txt ${WORK}/${SCRIPT}-[0-9].txt)
list(SORT parts COMPARE NATURAL)
list(REMOVE_ITEM parts ${SCRIPT}.txt)
foreach(part ${SCRIPT}.txt ${parts})
  execute_process(COMMAND ${STUDIO} quick.foreslice.json --script ${part} --size ${size} --state-folder state
    WORKING_DIRECTORY ${WORK} RESULT_VARIABLE result)
  if(NOT result EQUAL 0)
    message(FATAL_ERROR "${part}: the studio ended with ${result}; its last picture is ${WORK}/${part}.failed.png")
  endif()
endforeach()
