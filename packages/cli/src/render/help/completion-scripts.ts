import type { Shell } from '../../commands/completion/declare.ts';

/**
 * A script for each shell. All they know is to hand the words to `longnight complete` as words, never as a line that
 * the shell would read again: what somebody is about to type must not be carried out by a press of the key. Where it
 * has nothing to say they complete names of files.
 */
export const SCRIPTS: Readonly<Record<Shell, string>> = {
  bash: `# bash completion for longnight: source <(longnight completion bash)
_longnight() {
  local current=\${COMP_WORDS[COMP_CWORD]} line
  COMPREPLY=()
  while IFS= read -r line; do
    line=\${line%%$'\\t'*}
    [[ $line == "$current"* ]] && COMPREPLY+=("$line")
  done < <(longnight complete -- "\${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -o bashdefault -o default -F _longnight longnight
`,
  zsh: `#compdef longnight
# zsh completion for longnight: source <(longnight completion zsh)
_longnight() {
  local line value
  local -a found
  while IFS= read -r line; do
    value=\${line%%$'\\t'*}
    found+=("\${value//:/\\\\:}:\${line#*$'\\t'}")
  done < <(longnight complete -- "\${(@)words[2,CURRENT]}" 2>/dev/null)
  if (( $#found )); then
    _describe 'longnight' found
  else
    _files
  fi
}
if [ "\${funcstack[1]}" = "_longnight" ]; then
  _longnight "$@"
else
  compdef _longnight longnight
fi
`,
  fish: `# fish completion for longnight: longnight completion fish | source
function __longnight_complete
    set -l before (commandline -opc)
    set -l current (commandline -ct)
    set -l found (longnight complete -- $before[2..-1] "$current" 2>/dev/null)
    if test (count $found) -gt 0
        printf '%s\\n' $found
    else
        __fish_complete_path "$current"
    end
end
complete -c longnight -f -a '(__longnight_complete)'
`,
  powershell: `# PowerShell completion for longnight: longnight completion powershell | Out-String | Invoke-Expression
Register-ArgumentCompleter -Native -CommandName longnight -ScriptBlock {
    param($wordToComplete, $commandAst, $cursorPosition)
    $words = @($commandAst.CommandElements | Select-Object -Skip 1 | ForEach-Object { "$_" })
    # An empty word would not reach the program: a space stands for it.
    if ($wordToComplete -eq '') { $words += ' ' }
    longnight complete '--' @words 2>$null | ForEach-Object {
        $value, $meaning = $_ -split "\`t", 2
        if (-not $meaning) { $meaning = $value }
        [System.Management.Automation.CompletionResult]::new($value, $value, 'ParameterValue', $meaning)
    }
}
`,
};
