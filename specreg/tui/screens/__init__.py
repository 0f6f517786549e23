"""The screens, one file each; every one is loaded when it is first opened."""
