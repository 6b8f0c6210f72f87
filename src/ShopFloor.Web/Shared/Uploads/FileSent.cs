using Microsoft.AspNetCore.Components;

namespace ShopFloor.Web.Shared.Uploads;

/// <summary>A file that arrived.</summary>
/// <param name="Id">Its id among the incoming files.</param>
/// <param name="Name">Its name on the sender's device, for showing only.</param>
public sealed record SentFile(Guid Id, string Name);

/// <summary>What the browser says after a file was sent.</summary>
public sealed class FileSentEventArgs : EventArgs
{
    public string? Id { get; set; }
    public string? Name { get; set; }
}

/// <summary>Makes the browser's event known to Razor.</summary>
[EventHandler("onfilesent", typeof(FileSentEventArgs), enableStopPropagation: true, enablePreventDefault: false)]
public static class EventHandlers;
