"""One vehicle's fluid system.

`model` is the build file key by key, `variants` applies a named what-if, `load` reads file and catalogs,
`graph` turns them into ports, passages and joints, `fixings` chooses what each joint needs besides its two
sides, `circuits` answers what feeds what, `bodies` what is mounted on what, `volumes` how much
fluid it all holds, `edit` changes the file in place.
"""
