namespace ShopFloor.Web.Counter.Kiosk;

/// <summary>How long a device that customers use waits before it forgets, in seconds: common practice, no source.</summary>
public static class IdleTimes
{
    /// <summary>Without a touch before it asks.</summary>
    public const int Quiet = 90;

    /// <summary>From the question to the wipe; at least 20 s for who needs longer (WCAG 2.2, 2.2.1).</summary>
    public const int Warning = 30;
}
