baitfall completion bash >c && bash -n c && . ./c && COMP_WORDS=(baitfall fal) COMP_CWORD=1 && _baitfall && echo "${COMPREPLY[@]}"; rm c
